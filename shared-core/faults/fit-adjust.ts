import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { openCondition, plugVolts, solveCondition } from '../prediction/condition-model.ts';
import { nominalWorld } from '../prediction/world.ts';
import type { FitAdjuster } from './fit-report.ts';

/** Rounds of turning all adjusters; each sees what the others did in the round before. */
const mostRounds = 15;

/** Set to a tenth of what the kit allows: the builder's own setting scatters more. */
const closely = 0.1;

/** A small turn, as a share of the whole, that shows what a control does. */
const smallTurn = 0.02;

/** No round turns farther than this: the current rises faster than in proportion. */
const longTurn = 0.3;

/** Where a kit's adjusters end up with other valves. */
export interface SetAdjusters {
  /** The kit with its adjusters there, in every condition that has them set as the adjusting one does. */
  readonly chosen: ChosenKit;
  readonly adjusters: readonly FitAdjuster[];
  /** Adjust steps whose target is out of reach, with what the end of the turn gives in the reading's unit. */
  readonly outOfReach: readonly {
    readonly reading: Reading;
    readonly target: number;
    readonly reached: number;
  }[];
}

interface AdjustStep {
  readonly control: string;
  readonly reading: Reading;
  readonly condition: Condition;
  readonly target: number;
  readonly within: number;
}

/**
 * Does the kit's own adjust steps with other valves in: fixed bias is set by the reading, not by the drawing.
 *
 * Controls are turned by secants, round after round, as a builder does. A kit without adjust
 * steps comes back as it is.
 */
export function setAdjusters(chosen: ChosenKit, bench: Bench, fitted: Fitted): SetAdjusters {
  const steps = adjustSteps(chosen);
  const conditions = new Set(steps.map(({ condition }) => condition));
  let result: SetAdjusters = { chosen, adjusters: [], outOfReach: [] };
  for (const condition of conditions) {
    const own = steps.filter((step) => step.condition === condition);
    result = add(result, settle(chosen, condition, own, bench, fitted), condition);
  }
  return result;
}

function adjustSteps(chosen: ChosenKit): readonly AdjustStep[] {
  const all = chosen.chapters.flatMap(({ steps }) => steps);
  return all.flatMap(({ action }): readonly AdjustStep[] => {
    if (action.kind !== 'adjust') return [];
    const reading = chosen.readings.find(({ id }) => id === action.reading);
    const condition = chosen.conditions.find(({ id }) => id === reading?.in);
    if (!reading || condition?.supply !== 'mains' || reading.measure !== 'dc volts') return [];
    return [{ ...action, reading, condition }];
  });
}

type Positions = Readonly<Record<string, number>>;

function settle(
  chosen: ChosenKit,
  condition: Condition,
  steps: readonly AdjustStep[],
  bench: Bench,
  fitted: Fitted,
): { readonly before: Positions; readonly after: Positions; readonly reached: readonly number[] | null } {
  const read = (positions: Positions): readonly number[] | null => {
    const at = { ...condition, controls: { ...condition.controls, ...positions } };
    const state = solveCondition(
      openCondition(chosen, at, bench, fitted),
      nominalWorld,
      plugVolts(condition, bench),
    );
    const { wiring } = state.model.context;
    if (!state.converged) return null;
    return steps.map(
      ({ reading }) => state.volts(wiring.netAt(reading.at)) - state.volts(wiring.netAt(reading.against)),
    );
  };
  const before = Object.fromEntries(
    steps.map(({ control }) => [control, condition.controls[control] ?? 0.5]),
  );
  let now: Positions = before;
  let seen = read(now);
  const turned = new Map<AdjustStep, Turned>();
  for (let round = 0; round < mostRounds && seen; round += 1) {
    const figures = new Map(steps.map((step, index) => [step, seen?.[index] ?? 0]));
    const isOpen = [...turned].some(
      ([step, { isAtEnd }]) => !isAtEnd && !isWithin(step, figures.get(step) ?? 0, closely),
    );
    const more = isOpen ? [] : nextToTurn(steps, figures, turned);
    if (!isOpen && more.length === 0) break;
    for (const step of more) turned.set(step, { at: null, value: 0, slope: null, isAtEnd: false });
    now = { ...now, ...turnAll(turned, now, figures) };
    seen = read(now);
  }
  return { before, after: now, reached: seen };
}

/** The last place of a control, what it gave there, and what a turn does. */
interface Turned {
  at: number | null;
  value: number;
  slope: number | null;
  /** It stands at the end of its turn and would have to go on. */
  isAtEnd: boolean;
}

/**
 * The steps to turn next: nobody turns what is within the kit's own limits, and the one that is farthest off
 * comes first, with those that are half as far off or more.
 */
function nextToTurn(
  steps: readonly AdjustStep[],
  figures: ReadonlyMap<AdjustStep, number>,
  turned: ReadonlyMap<AdjustStep, Turned>,
): readonly AdjustStep[] {
  const off = (step: AdjustStep): number => Math.abs((figures.get(step) ?? 0) / step.target - 1);
  const out = steps.filter((step) => !turned.has(step) && !isWithin(step, figures.get(step) ?? 0, 1));
  const farthest = Math.max(0, ...out.map(off));
  return out.filter((step) => off(step) >= farthest / 2);
}

/** One turn of each control by its secant; the first is a small one, to see what it does. */
function turnAll(
  turned: ReadonlyMap<AdjustStep, Turned>,
  now: Positions,
  figures: ReadonlyMap<AdjustStep, number>,
): Positions {
  const next: Record<string, number> = {};
  for (const [step, last] of turned) {
    const at = now[step.control] ?? 0;
    const value = figures.get(step) ?? 0;
    if (last.at !== null && last.at !== at) {
      const slope = (value - last.value) / (at - last.at);
      if (Number.isFinite(slope) && slope !== 0) last.slope = slope;
    }
    [last.at, last.value] = [at, value];
    const first = at > 0.5 ? at - smallTurn : at + smallTurn;
    const wanted = last.slope === null ? first : at + (step.target - value) / last.slope;
    const to = Math.min(1, Math.max(0, Math.min(at + longTurn, Math.max(at - longTurn, wanted))));
    last.isAtEnd = to === at && wanted !== at;
    next[step.control] = to;
  }
  return next;
}

function isWithin(
  { target, within }: Pick<AdjustStep, 'target' | 'within'>,
  value: number,
  share: number,
): boolean {
  return Math.abs(value - target) <= share * within * Math.abs(target);
}

function add(
  { chosen, adjusters, outOfReach }: SetAdjusters,
  { before, after, reached }: ReturnType<typeof settle>,
  condition: Condition,
): SetAdjusters {
  const own = adjustSteps(chosen).filter((step) => step.condition.id === condition.id);
  const isSetAlike = (each: Condition): boolean =>
    Object.keys(before).every((control) => each.controls[control] === condition.controls[control]);
  const moved = own.filter(({ control }) => Math.abs((after[control] ?? 0) - (before[control] ?? 0)) > 1e-6);
  return {
    chosen: {
      ...chosen,
      conditions: chosen.conditions.map((each) =>
        isSetAlike(each) ? { ...each, controls: { ...each.controls, ...after } } : each,
      ),
    },
    adjusters: [
      ...adjusters,
      ...moved.map(({ control, reading }) => ({
        ...{ control, reading: reading.id },
        before: before[control] ?? 0,
        after: after[control] ?? 0,
      })),
    ],
    outOfReach: [
      ...outOfReach,
      ...own.flatMap(({ reading, target, within }, index) => {
        const value = reached?.[index];
        const isReached = value === undefined || isWithin({ target, within }, value, 1);
        return isReached ? [] : [{ reading, target, reached: value }];
      }),
    ],
  };
}
