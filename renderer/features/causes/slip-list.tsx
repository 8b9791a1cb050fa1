import type { RankedSlip } from '../../../shared-core/faults/slips.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { isReadableNow, meterChecks, percentWords } from './cause-words.ts';

/** Slips below this are not worth a look. */
const leastShown = 0.03;
const mostShown = 3;

interface SlipListProps {
  readonly build: Build;
  readonly slips: readonly RankedSlip[];
  /** Goes to a reading, with its gates. */
  readonly onReading: (reading: string) => void;
}

/** Slips of measuring come first: what to look at on the meter, and reading again beside it. */
export function SlipList({ build, slips, onReading }: SlipListProps) {
  const shown = slips.filter(({ probability }) => probability >= leastShown).slice(0, mostShown);
  return (
    <section className="causes-part" aria-labelledby="causes-slips">
      <h2 id="causes-slips">A slip of measuring?</h2>
      {shown.length === 0 ? (
        <p>None that would show these numbers.</p>
      ) : (
        <ul className="causes-rows">
          {shown.map(({ reading, kind, words, others, probability }) => (
            <li key={`${reading} ${kind} ${words}`}>
              <span className="causes-chance figures">{percentWords(probability)}</span>
              <div>
                <p>
                  {titleOf(build, reading)}: {words}
                  {others.length === 0
                    ? ''
                    : `, or ${others.length === 1 ? (others[0]?.words ?? '') : `one of ${others.length} others that show the same`}`}
                  . {meterChecks[kind]}
                </p>
                {isReadableNow(build, reading) ? (
                  <ActButton look="quiet" onAct={() => onReading(reading)}>
                    Read again: {titleOf(build, reading)}
                  </ActButton>
                ) : null}
              </div>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function titleOf({ facts }: Build, id: string): string {
  return facts.readings.find((each) => each.id === id)?.title ?? id;
}
