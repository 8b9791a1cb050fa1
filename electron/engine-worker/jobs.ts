import { bandSeed } from '../../shared-core/bands/expect-kit.ts';
import { predictBands } from '../../shared-core/bands/predict-bands.ts';
import { SampleBook } from '../../shared-core/bands/sample-book.ts';
import type { FitReport } from '../../shared-core/faults/fit-report.ts';
import { fitValves } from '../../shared-core/faults/fit-valves.ts';
import type { FitQuestion } from '../../shared-core/faults/fit-valves.ts';
import { practiceReadings } from '../../shared-core/faults/practice-amplifier.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { adjusterCurve, type AdjusterCurve } from '../../shared-core/prediction/adjuster-curve.ts';
import type { Bench, Fitted } from '../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../shared-core/prediction/predict-drain.ts';
import type { ConditionPrediction } from '../../shared-core/prediction/prediction.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { deriveFacts } from '../../shared-core/safety/derive-facts.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { type ExplainNeeds, type ExplainTurn, FaultKeeper } from './explain-job.ts';
import { BandKeeper, type TogetherNeeds, type TogetherTurn } from './together-job.ts';

/** What the engine can be asked for: name → what it needs → what it gives. */
export interface Jobs {
  readonly condition: {
    readonly needs: JobKit & { readonly condition: string };
    /** Null for a condition that the kit does not have. */
    readonly gives: ConditionPrediction | null;
  };
  /** What the safety rules need to know, with the predictions of every condition that it rests on. */
  readonly facts: {
    readonly needs: JobKit & { readonly kitHash: string };
    readonly gives: { readonly facts: SafetyFacts; readonly predictions: readonly ConditionPrediction[] };
  };
  /** What a reading shows at each position of its adjuster; `set` are readings whose adjusters stand already. */
  readonly adjuster: {
    readonly needs: JobKit & { readonly reading: string; readonly set: readonly string[] };
    readonly gives: AdjusterCurve | null;
  };
  /** All readings of a build seen together; asked again until it is ready. */
  readonly together: { readonly needs: TogetherNeeds; readonly gives: TogetherTurn };
  /** What explains the readings of a build; asked again until it is ready. */
  readonly explain: { readonly needs: ExplainNeeds; readonly gives: ExplainTurn };
  /** What the meter would show in an invented amplifier, by reading. */
  readonly practice: {
    readonly needs: JobKit & { readonly condition: string; readonly seed: number };
    readonly gives: Readonly<Record<string, number | null>>;
  };
  /** Other valves in some sockets; `before` are predictions of the kit's own that are at hand. */
  readonly fit: {
    readonly needs: JobKit & Pick<FitQuestion, 'valves' | 'before'>;
    readonly gives: Result<FitReport>;
  };
}

/** A kit on a bench. */
export interface JobKit {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
}

export type JobKind = keyof Jobs;

/** Does one job, here and now; the worker and the command line call the same. */
export function doJob<Kind extends JobKind>(kind: Kind, needs: Jobs[Kind]['needs']): Jobs[Kind]['gives'] {
  return work[kind](needs);
}

/** Draws from the spread of every quantity: the same for all conditions, whichever is asked for first. */
const book = new SampleBook(bandSeed);
const keeper = new BandKeeper(book);
const faultKeeper = new FaultKeeper();

const work: { readonly [Kind in JobKind]: (needs: Jobs[Kind]['needs']) => Jobs[Kind]['gives'] } = {
  condition: ({ chosen, condition, bench, fitted }) =>
    predictBands(chosen, condition, bench, fitted, book) ?? null,
  practice: ({ condition, seed, ...kit }) => practiceReadings(kit, condition, seed),
  fit: (needs) => fitValves({ ...needs, book }),
  facts: ({ kitHash, ...kit }) => {
    const { chosen, bench, fitted } = kit;
    const predictions = keeper.predictionsOf({ ...kit, kitHash });
    const drain = predictDrain(chosen, bench, fitted);
    return { facts: deriveFacts({ ...kit, kitHash, predictions, drain }), predictions };
  },
  adjuster: ({ chosen, reading, bench, fitted, set }) =>
    adjusterCurve(chosen, reading, bench, fitted, (id) => set.includes(id)),
  together: (needs) => keeper.turn(needs),
  explain: (needs) => faultKeeper.turn(needs),
};
