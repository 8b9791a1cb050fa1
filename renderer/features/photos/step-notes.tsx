import { useId, useState } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { Pressed } from '../../components/keys.ts';
import { dateWords } from '../../components/time-words.ts';
import { aboutTitle } from './about-title.ts';
import { PhotoAdder } from './photo-adder.tsx';
import { PhotoAlbum } from './photo-album.tsx';

interface StepNotesProps {
  readonly build: Build;
  /** The step on the screen. */
  readonly about: string | null;
  readonly onAsk: () => void;
}

/** Notes and photos of the step on the screen: one quiet line below it until they are wanted. */
export function StepNotes({ build, about, onAsk }: StepNotesProps) {
  const [isOpen, setOpen] = useState(false);
  const notes = build.build.notes.filter((note) => note.about === about);
  const photos = build.build.photos.filter((photo) => photo.about === about);
  const count = notes.length + photos.length;
  return (
    <details
      className="step-notes"
      open={isOpen}
      onToggle={({ currentTarget }) => setOpen(currentTarget.open)}
    >
      <summary>Notes and photos of this step{count === 0 ? '' : `: ${count}`}</summary>
      {isOpen ? (
        <>
          <NoteForm build={build} about={about} />
          <PhotoAdder build={build} about={about} />
          <ActButton look="quiet" onAct={onAsk}>
            Ask the maker about this step
          </ActButton>
          <ul className="rows">
            {notes.map(({ at, text }) => (
              <li key={`${at} ${text}`} className="note">
                <span className="quiet">{dateWords(at)}</span> {text}
              </li>
            ))}
          </ul>
          <PhotoAlbum build={build} photos={photos} titleOf={(id) => aboutTitle(build, id)} />
        </>
      ) : null}
    </details>
  );
}

function NoteForm({ build, about }: Pick<StepNotesProps, 'build' | 'about'>) {
  const [text, setText] = useState('');
  const field = useId();
  const write = async (by: Pressed): Promise<void> => {
    if (await build.act({ kind: 'note-written', about, text: text.trim(), by })) setText('');
  };
  return (
    <div className="field field-long">
      <label htmlFor={field}>A note on this step</label>
      <textarea id={field} rows={2} value={text} onChange={({ target }) => setText(target.value)} />
      <ActButton blocked={text.trim() === '' || !build.known} onAct={(by) => void write(by)}>
        Write it down
      </ActButton>
    </div>
  );
}
