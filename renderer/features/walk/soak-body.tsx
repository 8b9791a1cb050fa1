import type { StepAction } from '../../../shared-core/kit/kit.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import { soakLog } from '../../../shared-core/journal/soak-log.ts';
import type { SoakDue, SoakLog, SoakRow } from '../../../shared-core/journal/soak-log.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { durationWords } from '../../components/time-words.ts';
import { ReadingStation } from './reading-station.tsx';
import type { StepPageProps } from './step-props.ts';

type SoakProps = StepPageProps & { readonly action: Extract<StepAction, { kind: 'soak' }> };

/** Left on for a while, stayed with, and read at its times: the drift shows. */
export function SoakBody(props: SoakProps) {
  const { build, action, step } = props;
  const facts = build.facts.steps.find(({ id }) => id === step.id);
  if (facts === undefined) return null;
  const log = soakLog(facts, build.kit.readings, build.build, build.safety, build.now);
  if (log === null) {
    return (
      <div className="step-main">
        <SoakClock seconds={action.seconds} />
        <p>The time runs while the amplifier is on and this is the step to do now.</p>
      </div>
    );
  }
  const isOver = log.leftSeconds === 0;
  const due = log.rows.filter((row) => row.due.some(({ is }) => is === 'now')).map(({ reading }) => reading);
  return (
    <ReadingStation {...props} readings={action.readings} soak={facts} {...(isOver ? {} : { due })}>
      {isOver ? (
        <p>The time is over: take each reading again, so that a drift shows.</p>
      ) : (
        <>
          <SoakClock seconds={log.leftSeconds} />
          <p>Stay with it. F9 pulls the plug, F8 if something is wrong.</p>
        </>
      )}
      <DriftTable build={build} log={log} />
    </ReadingStation>
  );
}

function SoakClock({ seconds }: { readonly seconds: number }) {
  return (
    <p className="countdown countdown-large">
      <span className="figures">{durationWords(Math.ceil(seconds))}</span> to go
    </p>
  );
}

/** Each reading over the time: before, at each time that it is due, and how far it went. */
function DriftTable({ build, log }: { readonly build: Build; readonly log: SoakLog }) {
  const times = [...new Set(log.rows.flatMap(({ due }) => due.map(({ seconds }) => seconds)))].sort(
    (one, other) => one - other,
  );
  if (times.length === 0) return null;
  return (
    <table className="drift">
      <caption className="unseen">Readings while it is left on</caption>
      <thead>
        <tr>
          <th scope="col">Reading</th>
          <th scope="col">Before</th>
          {times.map((seconds) => (
            <th key={seconds} scope="col">
              {`after ${durationWords(seconds).replace(/ 00\u202fs$/, '')}`}
            </th>
          ))}
          <th scope="col">Drift</th>
        </tr>
      </thead>
      <tbody>
        {log.rows.map((row) => (
          <DriftRow key={row.reading} build={build} row={row} times={times} passed={log.passedSeconds} />
        ))}
      </tbody>
    </table>
  );
}

interface DriftRowProps {
  readonly build: Build;
  readonly row: SoakRow;
  readonly times: readonly number[];
  readonly passed: number;
}

function DriftRow({ build, row, times, passed }: DriftRowProps) {
  const reading = build.kit.readings.find(({ id }) => id === row.reading);
  const unit = reading === undefined ? 'V' : unitOfMeasure(reading.measure);
  const before = row.points.find(({ seconds }) => seconds < 0);
  return (
    <tr>
      <th scope="row">{reading?.title ?? row.reading}</th>
      <td className="figures">{before === undefined ? '—' : formatQuantity(before.value, unit)}</td>
      {times.map((seconds) => {
        const due = row.due.find((each) => each.seconds === seconds);
        return (
          <td key={seconds} className="figures">
            {due === undefined ? '' : dueWords(due, row, passed, (value) => formatQuantity(value, unit))}
          </td>
        );
      })}
      <td className="figures">{driftWords(row.drift)}</td>
    </tr>
  );
}

/** What stands at a time: the number, or how it is with it. */
export function dueWords(
  due: SoakDue,
  { due: all, points }: Pick<SoakRow, 'due' | 'points'>,
  passedSeconds: number,
  figure: (value: number) => string,
): string {
  const next = all.find(({ seconds }) => seconds > due.seconds)?.seconds ?? Number.POSITIVE_INFINITY;
  const taken = points.filter(({ seconds }) => seconds >= due.seconds && seconds < next).at(-1);
  if (taken !== undefined) return figure(taken.value);
  if (due.is === 'now') return 'now';
  if (due.is === 'missed') return 'not read';
  return `in ${durationWords(Math.ceil(due.seconds - passedSeconds))}`;
}

/** "+2.1 %", "−0.4 %"; "none" below what a meter's last figures can tell. */
export function driftWords(drift: number | null): string {
  if (drift === null) return '—';
  if (Math.abs(drift) < 0.0005) return 'none';
  const words = formatQuantity(Math.abs(drift), '%', 2);
  return `${drift > 0 ? '+' : '−'}${words}`;
}
