import type { StepAction } from '../../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { durationWords } from '../../components/time-words.ts';
import { ReadingStation } from './reading-station.tsx';
import { shareApart } from './reading-words.ts';
import type { StepPageProps } from './step-props.ts';

/** Two readings that should agree. */
export function CompareBody(
  props: StepPageProps & { readonly action: Extract<StepAction, { kind: 'compare' }> },
) {
  const { build, action } = props;
  const [one, other] = action.readings;
  const apart = shareApart(lastValue(build, one), lastValue(build, other));
  return (
    <ReadingStation {...props} readings={action.readings}>
      <p className="compare">
        {apart === null
          ? 'Take both readings first.'
          : apart <= action.within
            ? `They agree within ${formatQuantity(apart, '%', 2)}; ${formatQuantity(action.within, '%')} is allowed.`
            : `They differ by ${formatQuantity(apart, '%', 2)}; ${formatQuantity(action.within, '%')} is allowed. Read both again, and note it if it stays.`}
      </p>
    </ReadingStation>
  );
}

function lastValue({ build }: Build, id: string): number | null {
  const entry = build.readings[id]?.entries.at(-1)?.entry;
  return entry?.kind === 'value' ? entry.value : null;
}

/** Leave on for a while, then read again. */
export function SoakBody(props: StepPageProps & { readonly action: Extract<StepAction, { kind: 'soak' }> }) {
  const { build, action, step } = props;
  const left = soakLeft(build, step.id, action.seconds);
  if (left !== null) {
    return (
      <div className="step-main">
        <p className="countdown countdown-large">
          <span className="figures">{durationWords(Math.ceil(left))}</span> to go
        </p>
        <p>Stay with it. F9 pulls the plug, F8 if something is wrong.</p>
      </div>
    );
  }
  return <ReadingStation {...props} readings={action.readings} />;
}

/** Time still to wait, in seconds (s): since the step was begun, or since the plug went in if the app was closed between. */
export function soakLeft(
  { build, now, safety }: Pick<Build, 'build' | 'now' | 'safety'>,
  step: string,
  seconds: number,
): number | null {
  const record = build.steps[step];
  const isThisRun = record?.startedRun === now.run;
  const live = safety.energy.kind === 'live' ? safety.energy.since.tick : now.tick;
  const start = isThisRun ? (record?.startedTick ?? live) : live;
  const left = seconds - (now.tick - start) / 1000;
  return left > 0 ? left : null;
}
