import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Part, Place, Step, StepAction } from '../kit/kit.ts';
import { placesOfPart } from '../kit/places.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { isEarthPin } from './mains-places.ts';
import type { StepFacts } from './facts.ts';

/** Steps that nothing waits for: they follow from the state, or come last. */
const neverRequired: ReadonlySet<StepAction['kind']> = new Set([
  'switch-on',
  'switch-off',
  'drain',
  'listen',
  'sign',
]);

/**
 * What the rules need to know about every step, in the order of the kit.
 *
 * @param mainsSide Nets before the transformer.
 */
export function deriveStepFacts(chosen: ChosenKit, mainsSide: ReadonlySet<string>): readonly StepFacts[] {
  let live: string | null = null;
  return chosen.chapters.flatMap((chapter) =>
    chapter.steps.map((step): StepFacts => {
      const { action } = step;
      if (action.kind === 'switch-on') live = isLive(chosen, action.condition) ? action.condition : live;
      const condition =
        action.kind === 'switch-on' ? action.condition : (live ?? conditionOfReadings(chosen, action));
      const facts = stepFacts(chosen, step, chapter.id, condition, mainsSide);
      if (action.kind === 'switch-off') live = null;
      return facts;
    }),
  );
}

function isLive(chosen: ChosenKit, id: string): boolean {
  return chosen.conditions.some((condition) => condition.id === id && condition.supply !== 'unplugged');
}

/** The condition that a step's readings belong to, with the plug out. */
function conditionOfReadings(chosen: ChosenKit, action: StepAction): string | null {
  const ids =
    action.kind === 'read' || action.kind === 'compare'
      ? action.readings
      : action.kind === 'adjust'
        ? [action.reading]
        : [];
  return chosen.readings.find(({ id }) => ids.includes(id))?.in ?? null;
}

function stepFacts(
  chosen: ChosenKit,
  step: Step,
  chapter: string,
  condition: string | null,
  mainsSide: ReadonlySet<string>,
): StepFacts {
  const { id, title, reach, action, inspect } = step;
  const parts = chosen.parts.filter((part) => step.parts.includes(part.id));
  const places = solderedPlaces(chosen, step, parts);
  const nets = new Set(places.map((place) => netOfPlace(chosen, place)));
  const isAssembly = action.kind === 'assemble';
  return {
    ...{ id, title, chapter, reach, action, condition, inspect },
    required: !neverRequired.has(action.kind),
    mainsSide: isAssembly && (touchesMains(chosen, parts, nets, mainsSide) || places.some(isEarthPin)),
    onlyValves: parts.length > 0 && step.leads.length === 0 && parts.every(({ kind }) => kind === 'valve'),
    nets: isAssembly ? [...nets].sort() : [],
    cautions: step.cautions.map((caution, index) => ({ id: `${id}:${index}`, ...caution })),
  };
}

/** A part that sits on the mains side counts when it is fitted, before any lead reaches it. */
function touchesMains(
  chosen: ChosenKit,
  parts: readonly Part[],
  nets: ReadonlySet<string>,
  mainsSide: ReadonlySet<string>,
): boolean {
  if ([...nets].some((net) => mainsSide.has(net))) return true;
  return parts.some((part) => placesOfPart(part).some((place) => mainsSide.has(netOfPlace(chosen, place))));
}

/** Places where a step makes a joint: ends of its two-ended parts and of its leads. */
function solderedPlaces(chosen: ChosenKit, step: Step, parts: readonly Part[]): readonly Place[] {
  const leads = chosen.leads.filter(({ id }) => step.leads.includes(id));
  return [
    ...parts.flatMap((part) => ('between' in part ? part.between : [])),
    ...leads.flatMap(({ from, to }) => [from, to]),
  ];
}
