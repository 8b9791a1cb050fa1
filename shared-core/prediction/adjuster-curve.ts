import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { openCondition, plugVolts, solveCondition } from './condition-model.ts';
import { readByTangent } from './dc-readings.ts';
import { nominalWorld } from './world.ts';

/** What a reading shows at each position of its adjuster, for this bench and these valves. */
export interface AdjusterCurve {
  readonly control: string;
  readonly reading: string;
  /** From fully anticlockwise (0) to fully clockwise (1), in order; values as the meter shows them, in volts (V). */
  readonly points: readonly { readonly position: number; readonly value: number }[];
}

/** Positions from one end to the other: a twentieth of the travel apart. */
const steps = 20;

/**
 * Computes the curve of one adjuster.
 *
 * Another adjuster of the same condition that was not set yet stands where the condition switched on before has
 * it; one that was set stands where this condition has it. Supplies go without their ripple correction, which
 * is a little high (0.1 to 2 %) and three times as fast: a hint needs no more.
 *
 * @param id The reading that the adjuster is set by.
 * @param isSet Whether the adjuster of another reading was already set, or at least read, in this condition.
 * @returns Null for a reading that no adjust step sets by DC volts.
 */
export function adjusterCurve(
  chosen: ChosenKit,
  id: string,
  bench: Bench,
  fitted: Fitted,
  isSet: (reading: string) => boolean,
): AdjusterCurve | null {
  const condition = chosen.conditions.find(
    (each) => each.id === chosen.readings.find((reading) => reading.id === id)?.in,
  );
  if (condition?.supply !== 'mains') return null;
  const all = adjustersOf(chosen, condition.id);
  const own = all.find(({ reading }) => reading.id === id);
  if (own === undefined) return null;
  const before = conditionBefore(chosen, condition.id);
  const waiting = all.filter(({ reading }) => reading.id !== id && !isSet(reading.id));
  const start = waiting.flatMap(({ control }) => {
    const position = before?.controls[control];
    return position === undefined ? [] : [[control, position] as const];
  });
  const points = Array.from({ length: steps + 1 }, (_, step) => {
    const position = step / steps;
    const controls = { ...condition.controls, ...Object.fromEntries(start), [own.control]: position };
    const value = valueAt(chosen, { ...condition, controls }, own.reading, bench, fitted);
    return value === null ? [] : [{ position, value }];
  });
  return { control: own.control, reading: id, points: points.flat() };
}

/** The adjusters that a kit's steps set by a DC reading of a condition. */
export function adjustersOf(
  { chapters, readings }: Pick<ChosenKit, 'chapters' | 'readings'>,
  condition: string,
): readonly { readonly control: string; readonly reading: Reading }[] {
  return chapters
    .flatMap((chapter) => chapter.steps)
    .flatMap(({ action }) => {
      if (action.kind !== 'adjust') return [];
      const reading = readings.find(({ id }) => id === action.reading);
      const isOwn = reading?.in === condition && reading.measure === 'dc volts';
      return isOwn ? [{ control: action.control, reading }] : [];
    });
}

/** The condition that the kit's steps switch on before this one. */
function conditionBefore({ chapters, conditions }: ChosenKit, id: string): Condition | undefined {
  const order = chapters
    .flatMap(({ steps: own }) => own)
    .flatMap(({ action }) => (action.kind === 'switch-on' ? [action.condition] : []));
  const before = order[order.indexOf(id) - 1];
  return conditions.find((each) => each.id === before);
}

function valueAt(
  chosen: ChosenKit,
  condition: Condition,
  reading: Reading,
  bench: Bench,
  fitted: Fitted,
): number | null {
  const kit = { ...chosen, readings: [reading] };
  const model = openCondition(kit, condition, bench, fitted, 'hot', 'upper');
  const state = solveCondition(model, nominalWorld, plugVolts(condition, bench));
  if (!state.converged) return null;
  return readByTangent(state)[0] ?? null;
}
