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
 * All controls are turned at once by secants, as a builder goes round more than once. A kit without adjust
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
  let last: Positions = Object.fromEntries(
    Object.entries(before).map(([control, at]) => [control, at > 0.5 ? at - smallTurn : at + smallTurn]),
  );
  let seen = read(now);
  const turned = new Set<AdjustStep>();
  let seenLast: readonly number[] | null = null;
  for (let round = 0; round < mostRounds && seen; round += 1) {
    const figures = seen;
    // Nobody turns what is within the kit's own limits; what is turned once is set to the target.
    steps.forEach((step, index) => {
      if (!isWithin(step, figures[index] ?? 0, 1)) turned.add(step);
    });
    const open = steps.filter(
      (step, index) => turned.has(step) && !isWithin(step, figures[index] ?? 0, closely),
    );
    if (open.length === 0) break;
    if (round === 0) {
      last = {
        ...now,
        ...Object.fromEntries([...turned].map(({ control }) => [control, last[control] ?? 0])),
      };
      seenLast = read(last);
    }
    if (!seenLast) break;
    const next = { ...now, ...turn(steps, turned, [now, figures], [last, seenLast]) };
    [last, seenLast] = [now, figures];
    now = next;
    seen = read(now);
  }
  return { before, after: now, reached: seen };
}

function isWithin(
  { target, within }: Pick<AdjustStep, 'target' | 'within'>,
  value: number,
  share: number,
): boolean {
  return Math.abs(value - target) <= share * within * Math.abs(target);
}

function turn(
  steps: readonly AdjustStep[],
  turned: ReadonlySet<AdjustStep>,
  [now, seen]: readonly [Positions, readonly number[]],
  [last, seenLast]: readonly [Positions, readonly number[]],
): Positions {
  return Object.fromEntries(
    steps.flatMap((step, index): readonly (readonly [string, number])[] => {
      if (!turned.has(step)) return [];
      const { control, target } = step;
      const [at = 0, from = 0] = [now[control], last[control]];
      const [value = 0, valueFrom = 0] = [seen[index], seenLast[index]];
      const slope = (value - valueFrom) / (at - from);
      // Where nothing moved the last turn told nothing: go on towards more current.
      const wanted = Number.isFinite(slope) && slope !== 0 ? at + (target - value) / slope : at + smallTurn;
      const bounded = Math.min(1, Math.max(0, Math.min(at + 0.3, Math.max(at - 0.3, wanted))));
      return [[control, bounded]];
    }),
  );
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
