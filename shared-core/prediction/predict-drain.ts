import type { Circuit } from '../circuit/circuit.ts';
import type { DrainOutcome, DrainStart } from '../circuit/drain.ts';
import { drainLinear } from '../circuit/drain-linear.ts';
import { drainNonlinear } from '../circuit/drain-nonlinear.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { CapacitorPart, Condition, Part } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { conditionDrains } from './condition-drains.ts';
import { openCondition, solveCondition } from './condition-model.ts';
import { lowMains } from './mains-limits.ts';
import type { DrainCurve, DrainPrediction, StorePrediction } from './prediction.ts';
import { asInKit } from './nominal-bench.ts';
import {
  capacitorVolts,
  findStores,
  fullestConditions,
  onOwnMains,
  pluggedConditions,
  topFarads,
} from './stores.ts';
import type { ValveHeat } from './element-context.ts';
import { highMains } from './warm-up.ts';
import { nominalWorld, type World } from './world.ts';

/** Mains runs no lower than this share of what the transformer is made for: IEC 60038, −10 %. */
const lowestShare = 0.9;

/** How long hot valves are followed at most, in seconds (s). */
const longestFastSeconds = 600;

/** A drain as a circuit without its supply, and the volts it begins with. */
export interface DrainCase {
  readonly circuit: Circuit;
  readonly start: DrainStart;
}

/** The three drains of one condition. */
export interface DrainCases {
  /** Valves cold, capacitors and resistors at their upper tolerance, from the highest unloaded volts. */
  readonly slow: DrainCase;
  /** Valves cold, everything nominal, from the running volts. */
  readonly likely: DrainCase;
  /**
   * Valves hot, capacitors and resistors at their lower tolerance, from the running volts at low mains; as the
   * kit states them, so that no slip of typing lowers the curve below which a look proves nothing.
   */
  readonly fast: DrainCase;
}

/**
 * The three drains of a kit in one condition: for checks against a reference as well.
 *
 * @param highest Highest volts of each capacitor in any condition, in volts (V).
 */
export function drainCases(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
  highest: DrainStart,
): DrainCases {
  const running = startOf(chosen, condition, bench, fitted, 'hot', bench.mains.volts);
  const weakBench = onOwnMains(chosen, bench, lowestShare);
  const weak = startOf(chosen, condition, weakBench, asInKit, 'hot', lowMains(weakBench));
  const own = onOwnMains(chosen, bench);
  const warming = startOf(chosen, condition, own, fitted, 'rectifiers', highMains(own));
  const slowStart = Object.fromEntries(
    Object.entries(warming).map(([id, volts]) => {
      const top = highest[id] ?? 0;
      return [id, Math.abs(volts) >= top ? volts : volts < 0 ? -top : top];
    }),
  );
  return {
    slow: {
      circuit: drainCircuit(chosen, condition, bench, fitted, 'cold', toleranceWorld(chosen, fitted, 'high')),
      start: slowStart,
    },
    likely: {
      circuit: drainCircuit(chosen, condition, bench, fitted, 'cold', nominalWorld),
      start: running,
    },
    fast: {
      circuit: drainCircuit(chosen, condition, bench, asInKit, 'hot', toleranceWorld(chosen, asInKit, 'low')),
      start: weak,
    },
  };
}

/** Every resistor and capacitor at one end of its tolerance; measured parts stay. */
function toleranceWorld(chosen: ChosenKit, fitted: Fitted, end: 'low' | 'high'): World {
  const world: Record<string, number> = {};
  for (const part of chosen.parts) {
    const isScattered =
      part.kind === 'resistor' || part.kind === 'potentiometer' || part.kind === 'capacitor';
    if (isScattered && fitted.measured[part.id] === undefined) world[part.id] = part.tolerance[end];
  }
  return world;
}

function startOf(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
  heat: ValveHeat,
  mainsVolts: number,
): DrainStart {
  const state = solveCondition(
    openCondition(chosen, condition, bench, fitted, heat),
    nominalWorld,
    mainsVolts,
  );
  const { wiring } = state.model.context;
  return Object.fromEntries(
    chosen.parts.flatMap((part): [string, number][] => {
      if (part.kind !== 'capacitor') return [];
      const volts = state.volts(wiring.netAt(part.between[0])) - state.volts(wiring.netAt(part.between[1]));
      return [[part.id, volts < 0 ? volts : capacitorVolts(state, part)]];
    }),
  );
}

/** The amplifier with the plug out: no supply, no meter, no generator. */
function drainCircuit(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
  heat: ValveHeat,
  world: World,
): Circuit {
  const unplugged = { ...condition, supply: 'unplugged' as const, input: quietInput(condition) };
  const parts: readonly Part[] = chosen.parts;
  const model = openCondition({ ...chosen, parts, readings: [] }, unplugged, bench, fitted, heat);
  const state = solveCondition(model, world, 0);
  return { elements: state.elements, reference: state.model.context.wiring.reference };
}

/** A generator is a short for a discharge through it; the slow side is without. */
function quietInput({ input }: Condition): Condition['input'] {
  return input === 'signal' ? 'open' : input;
}

/**
 * What every store does after the plug is out.
 *
 * Over all conditions on the mains the slowest *slow*, the longest *likely* and the quickest *fast* are
 * kept for each store, so that one set of curves is right whatever was on last.
 */
export function predictDrain(chosen: ChosenKit, bench: Bench, fitted: Fitted): DrainPrediction {
  const stores = findStores(chosen, bench, fitted);
  const highest = Object.fromEntries(stores.map(({ part, volts }) => [part.id, volts]));
  const { safeVolts } = chosen;
  const conditions = distinctConditions(pluggedConditions(chosen));
  const fullest = fullestConditions(conditions);
  const runs = conditions.map((condition) => {
    const cases = drainCases(chosen, condition, bench, fitted, highest);
    const slow = drainLinear(cases.slow.circuit, cases.slow.start, { safeVolts });
    const likely = drainLinear(cases.likely.circuit, cases.likely.start, { safeVolts });
    const fast = fullest.includes(condition)
      ? drainNonlinear(cases.fast.circuit, cases.fast.start, {
          safeVolts,
          untilSeconds: longestFastSeconds,
        })
      : null;
    const quickest =
      fast ??
      drainNonlinear(cases.fast.circuit, cases.fast.start, { safeVolts, untilSeconds: longestFastSeconds });
    return { slow, likely, fast, quickest, key: drainKey(condition) };
  });
  const plugged = pluggedConditions(chosen);
  const alike = runs.map((run) => ({
    run,
    conditions: plugged.filter((each) => drainKey(each) === run.key).map(({ id }) => id),
  }));
  return {
    safeVolts,
    stores: stores.map(({ part, volts }): StorePrediction => {
      const slow = pickLongest(
        runs.map((run) => run.slow),
        part,
      );
      const likely = pickLongest(
        runs.map((run) => run.likely),
        part,
      );
      const fast = pickQuickest(
        runs.flatMap((run) => run.fast ?? []),
        part,
        safeVolts,
      );
      return {
        ...{ part: part.id, plus: part.between[0], minus: part.between[1], volts },
        joules: (topFarads(part, fitted) * volts ** 2) / 2,
        fastSeconds: fast.seconds,
        likelySeconds: likely.seconds,
        slowSeconds: slow.seconds,
        ...{ fast: fast.curve, likely: likely.curve, slow: slow.curve },
        after: conditionDrains(alike, part.id),
      };
    }),
  };
}

/** Conditions that differ in more than names, cautions and times. */
function distinctConditions(conditions: readonly Condition[]): readonly Condition[] {
  const seen = new Set<string>();
  return conditions.filter((condition) => {
    const key = drainKey(condition);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function drainKey({ fitted, switches, controls, loads, input }: Condition): string {
  return JSON.stringify([fitted, switches, controls, loads, input === 'shorted']);
}

interface PickedDrain {
  readonly seconds: number | null;
  readonly curve: DrainCurve;
}

/** The quickest of those in which the store is charged at all. */
function pickQuickest(
  outcomes: readonly DrainOutcome[],
  part: CapacitorPart,
  safeVolts: number,
): PickedDrain {
  const charged = outcomes.filter(({ stores }) =>
    stores.some(({ element, volts }) => element === part.id && Math.abs(volts) > safeVolts),
  );
  const secondsIn = ({ stores }: DrainOutcome): number =>
    stores.find(({ element }) => element === part.id)?.seconds ?? Infinity;
  const [quickest] = [...charged].sort((one, other) => secondsIn(one) - secondsIn(other));
  return pickLongest(quickest ? [quickest] : outcomes, part);
}

function pickLongest(outcomes: readonly DrainOutcome[], part: CapacitorPart): PickedDrain {
  let best: PickedDrain | null = null;
  for (const outcome of outcomes) {
    const store = outcome.stores.find(({ element }) => element === part.id);
    if (!store) continue;
    const isLonger = !best || (store.seconds ?? Infinity) > (best.seconds ?? Infinity);
    if (isLonger) {
      const curve = { seconds: outcome.seconds, volts: store.curve.map((volts) => Math.abs(volts)) };
      best = { seconds: store.seconds, curve };
    }
  }
  return best ?? { seconds: null, curve: { seconds: [], volts: [] } };
}
