import type { StepAction } from '../../../shared-core/kit/kit.ts';
import { apartOf, isApartAccepted, isTooFarApart } from '../../../shared-core/safety/compare.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { matchedWords, pairWords } from './compare-words.ts';
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
  const valueOf = (id: string): number | null => build.safety.readings[id]?.value ?? null;
  const told = [pairWords, matchedWords].flatMap((words) => words(build.kit, action.readings, valueOf) ?? []);
  const isOpen = isTooFarApart(facts, build.safety) && !isApartAccepted(facts, build.safety);
  return (
    <ReadingStation {...props} readings={action.readings}>
      <p className="compare">{compareWords(apartOf(facts, build.safety), action.within)}</p>
      {told.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
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
