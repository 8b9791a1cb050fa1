import type { StepAction } from '../../../shared-core/kit/kit.ts';
import { apartOf, isApartAccepted, isTooFarApart } from '../../../shared-core/safety/compare.ts';
import { soakLeftSeconds } from '../../../shared-core/safety/soak.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { durationWords } from '../../components/time-words.ts';
import { Acceptance } from './out-of-band.tsx';
import { ReadingStation } from './reading-station.tsx';
import type { StepPageProps } from './step-props.ts';

/** Two readings that should agree. */
export function CompareBody(
  props: StepPageProps & { readonly action: Extract<StepAction, { kind: 'compare' }> },
) {
  const { build, action, step } = props;
  const facts = build.facts.steps.find(({ id }) => id === step.id);
  const other = build.kit.readings.find(({ id }) => id === action.readings[1]);
  if (facts === undefined || other === undefined) return null;
  const isOpen = isTooFarApart(facts, build.safety) && !isApartAccepted(facts, build.safety);
  return (
    <ReadingStation {...props} readings={action.readings}>
      <p className="compare">{compareWords(apartOf(facts, build.safety), action.within)}</p>
      {isOpen ? <Acceptance build={build} reading={other} /> : null}
    </ReadingStation>
  );
}

/** What two readings say of each other. */
export function compareWords(apart: number | null, within: number): string {
  const allowed = `${formatQuantity(within, '%')} is allowed`;
  if (apart === null) return 'Take both readings first.';
  return apart <= within
    ? `They agree within ${formatQuantity(apart, '%', 2)}; ${allowed}.`
    : `They differ by ${formatQuantity(apart, '%', 2)}; ${allowed}. Read both again. If it stays, pull the plug and look for the fault, or accept it with a reason.`;
}

/** Leave on for a while, then read again. */
export function SoakBody(props: StepPageProps & { readonly action: Extract<StepAction, { kind: 'soak' }> }) {
  const { build, action, step } = props;
  const facts = build.facts.steps.find(({ id }) => id === step.id);
  if (facts === undefined) return null;
  const left = soakLeftSeconds(facts, build.safety, build.now);
  if (left === 0) {
    return (
      <ReadingStation {...props} readings={action.readings} soak={facts}>
        <p>The time is over: take each reading again, so that a drift shows.</p>
      </ReadingStation>
    );
  }
  return (
    <div className="step-main">
      <p className="countdown countdown-large">
        <span className="figures">{durationWords(Math.ceil(left ?? action.seconds))}</span> to go
      </p>
      {left === null ? (
        <p>The time runs while the amplifier is on and this is the step to do now.</p>
      ) : (
        <p>Stay with it. F9 pulls the plug, F8 if something is wrong.</p>
      )}
    </div>
  );
}
