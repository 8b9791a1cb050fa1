import { listSpreads } from '../bands/list-spreads.ts';
import { drawDeviation } from '../bands/spread.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import { normalDraw, seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { openCondition, plugVolts, solveCondition } from '../prediction/condition-model.ts';
import { nominalWorld, type World } from '../prediction/world.ts';
import type { Fault, FaultSort } from './fault.ts';
import { listFaults } from './list-faults.ts';
import { pictureCondition } from './picture.ts';

/** A kit on a bench, as an invented amplifier is made from it. */
export interface PracticeKit {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
}

/** Faults that a power-up finds by its readings. What is exchanged or bridged shows in the look-over already. */
const planted: ReadonlySet<FaultSort> = new Set([
  'wrong value',
  'broken part',
  'leaky',
  'valve worn',
  'joint missing',
]);

/**
 * The fault that is planted in an invented amplifier; null in every second one.
 *
 * @param seed Equal seeds give equal amplifiers.
 */
export function practiceFault({ chosen, fitted }: PracticeKit, seed: number): Fault | null {
  const random = seededRandom(seed ^ seedOfText('fault'));
  if (random() < 0.5) return null;
  const faults = listFaults({ chosen, fitted, flaw: {} }).filter(({ sort }) => planted.has(sort));
  return faults[Math.floor(random() * faults.length)] ?? null;
}

/**
 * What the meter would show at every reading of a condition of an invented amplifier.
 *
 * Not a measurement of anything: the engine's own model, its parts drawn once from their spread, with the fault that
 * the seed plants. What a kit states instead of having it computed is shown well inside of what it states.
 *
 * @returns By reading, in SI units; null is OL.
 */
export function practiceReadings(
  kit: PracticeKit,
  condition: string,
  seed: number,
): Readonly<Record<string, number | null>> {
  const { chosen, bench, fitted } = kit;
  const own = chosen.readings.filter((reading) => reading.in === condition);
  const healthy = { chosen, fitted, flaw: {} };
  const built = practiceFault(kit, seed)?.build(healthy) ?? healthy;
  const world = drawWorld(kit, seed);
  const flaw: Record<string, number> = { ...world };
  for (const [quantity, by] of Object.entries(built.flaw))
    flaw[quantity] = (1 + (flaw[quantity] ?? 0)) * (1 + by) - 1;
  const { values } = pictureCondition({ ...built, flaw }, condition, own, bench, { depth: 'full' });
  return Object.fromEntries(
    own.map((reading, index) => {
      const { id, expect, stopAbove } = reading;
      const computed = values[index] ?? Number.NaN;
      const value =
        expect !== null ? statedValue(expect) : Number.isNaN(computed) ? 0.75 * (stopAbove ?? 1) : computed;
      return [id, value === null || value === Infinity ? null : onMeter(value, id, seed)];
    }),
  );
}

/** Well inside of what a kit states; null for OL. */
function statedValue({
  above,
  below,
  overload,
}: {
  above?: number;
  below?: number;
  overload?: true;
}): number | null {
  if (overload === true) return null;
  if (above !== undefined && below !== undefined) return (above + below) / 2;
  return above !== undefined ? above * 20 : (below ?? 0) * 0.4;
}

/** A look at a meter: half a per cent to either side. Our own figure. */
function onMeter(value: number, reading: string, seed: number): number {
  return value * (1 + 0.0025 * normalDraw(seededRandom(seed ^ seedOfText(reading))));
}

/** Everything that scatters, drawn once: each quantity by its own name, so that all conditions are one amplifier. */
function drawWorld({ chosen, bench, fitted }: PracticeKit, seed: number): World {
  const condition =
    chosen.conditions.find(({ supply, fitted: valves }) => supply === 'mains' && valves === 'all') ??
    chosen.conditions.find(({ supply }) => supply === 'mains');
  if (condition === undefined) return nominalWorld;
  const model = openCondition(chosen, condition, bench, fitted);
  const state = solveCondition(model, nominalWorld, plugVolts(condition, bench));
  if (!state.converged) return nominalWorld;
  const { spreads } = listSpreads(state, everything);
  return Object.fromEntries(
    spreads.map((spread) => [
      spread.quantity,
      drawDeviation(spread, seededRandom((seed ^ seedOfText(spread.quantity)) >>> 0)),
    ]),
  );
}

/** Every quantity counts as asked for. */
const everything = { has: () => true } as unknown as ReadonlySet<string>;
