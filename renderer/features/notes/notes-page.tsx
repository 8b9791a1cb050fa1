import { useId, useState } from 'react';
import type { ReactNode } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Heading } from '../../components/heading.tsx';
import type { Pressed } from '../../components/keys.ts';
import { dateWords } from '../../components/time-words.ts';

interface NotesPageProps {
  readonly build: Build;
  readonly about: string | null;
  /** The photos, below the notes. */
  readonly children: ReactNode;
}

/** Notes, each tied to the step it was written at. */
export function NotesPage({ build, about, children }: NotesPageProps) {
  const [text, setText] = useState('');
  const field = useId();
  const titleOf = (id: string | null): string =>
    build.facts.steps.find((step) => step.id === id)?.title ??
    build.facts.readings.find((each) => each.id === id)?.title ??
    'the build';
  const write = async (by: Pressed): Promise<void> => {
    if (await build.act({ kind: 'note-written', about, text: text.trim(), by })) setText('');
  };
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="notes">Notes and photos</Heading>
      </header>
      <div className="step-main">
        <div className="field field-long">
          <label htmlFor={field}>About “{titleOf(about)}”</label>
          <textarea id={field} rows={4} value={text} onChange={(event) => setText(event.target.value)} />
        </div>
        <ActButton look="move" blocked={text.trim() === '' || !build.known} onAct={(by) => void write(by)}>
          Write it down
        </ActButton>
        <ul className="rows">
          {build.build.notes.toReversed().map((note) => (
            <li key={`${note.at} ${note.text}`} className="note">
              <p className="quiet">
                {dateWords(note.at)} · {titleOf(note.about)}
              </p>
              <p>{note.text}</p>
            </li>
          ))}
        </ul>
        {children}
      </div>
    </article>
  );
}
