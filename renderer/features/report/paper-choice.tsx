import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { PhotoFigure } from '../../components/photo-figure.tsx';

/** What goes into the papers: places of notes, and files of photos. */
export interface Chosen {
  readonly notes: readonly number[];
  readonly photos: readonly string[];
}

interface PaperChoiceProps {
  readonly build: Build;
  readonly chosen: Chosen;
  readonly onChange: (chosen: Chosen) => void;
  readonly addresses: Readonly<Record<string, string>>;
}

/** Ticks for every note and photo; a photo goes nowhere unless it is ticked. */
export function PaperChoice({ build: { build }, chosen, onChange, addresses }: PaperChoiceProps) {
  const { notes, photos } = build;
  if (notes.length + photos.length === 0) return null;
  const files = [...new Set(photos.map(({ file }) => file))];
  const turned = <Value,>(list: readonly Value[], value: Value, isIn: boolean): readonly Value[] =>
    isIn ? [...list, value] : list.filter((each) => each !== value);
  return (
    <details className="paper-choice">
      <summary>
        Choose notes and photos: {chosen.notes.length} of {notes.length} notes, {chosen.photos.length} of{' '}
        {files.length} photos go in
      </summary>
      <p className="quiet">
        Notes are left out of the report only: the record holds every note, because its journal is one chain.
        Photos go into report and record when they are ticked.
      </p>
      {notes.length === 0 ? null : (
        <ul className="rows" aria-label="Notes">
          {notes.map(({ at, text }, place) => (
            <li key={`${at} ${text}`}>
              <Tick
                checked={chosen.notes.includes(place)}
                onChange={(isIn) => onChange({ ...chosen, notes: turned(chosen.notes, place, isIn) })}
              >
                {text}
              </Tick>
            </li>
          ))}
        </ul>
      )}
      {files.length < 2 ? null : (
        <ActButton look="quiet" onAct={() => onChange({ ...chosen, photos: files })}>
          All photos
        </ActButton>
      )}
      <ul className="album" aria-label="Photos">
        {files.map((file, index) => {
          const text = photos.find((each) => each.file === file)?.text || `photo ${index + 1}`;
          return (
            <li key={file}>
              <PhotoFigure
                address={addresses[file] ?? null}
                title={`Photo ${index + 1}: ${text}`}
                caption={
                  <Tick
                    checked={chosen.photos.includes(file)}
                    onChange={(isIn) => onChange({ ...chosen, photos: turned(chosen.photos, file, isIn) })}
                  >
                    {text}
                  </Tick>
                }
              />
            </li>
          );
        })}
      </ul>
    </details>
  );
}
