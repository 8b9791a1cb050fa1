import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import type { Build } from '../../bridge/use-build.ts';
import { entryWords } from '../../components/measure-words.ts';
import { VerdictMark } from '../../components/verdict-mark.tsx';

interface ReadingListProps {
  readonly build: Build;
  readonly readings: readonly string[];
  readonly active: string | null;
  readonly onChoose: (reading: string) => void;
}

/** The readings of a step in a row, with what was read and how it stands. */
export function ReadingList({ build, readings, active, onChoose }: ReadingListProps) {
  return (
    <ol className="reading-list" aria-label="Readings of this step">
      {readings.map((id) => {
        const reading = build.kit.readings.find((each) => each.id === id);
        const record = build.build.readings[id];
        const last = record?.counts === true ? record.entries.at(-1) : undefined;
        if (reading === undefined) return null;
        return (
          <li key={id}>
            <button
              type="button"
              aria-current={id === active ? 'true' : undefined}
              onClick={() => onChoose(id)}
            >
              <span>{reading.title}</span>
              <span className="figures">
                {last === undefined ? '—' : entryWords(last.entry, unitOfMeasure(reading.measure))}
              </span>
              {last === undefined || record === undefined ? null : <VerdictMark verdict={record.verdict} />}
            </button>
          </li>
        );
      })}
    </ol>
  );
}
