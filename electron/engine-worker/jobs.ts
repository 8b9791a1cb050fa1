import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench, Fitted } from '../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../shared-core/prediction/predict-condition.ts';
import type { ConditionPrediction } from '../../shared-core/prediction/prediction.ts';

/** What the engine can be asked for: name → what it needs → what it gives. */
export interface Jobs {
  readonly condition: {
    readonly needs: JobKit & { readonly condition: string };
    readonly gives: ConditionPrediction | null;
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

const work: { readonly [Kind in JobKind]: (needs: Jobs[Kind]['needs']) => Jobs[Kind]['gives'] } = {
  condition: ({ chosen, condition, bench, fitted }) =>
    predictNominal(chosen, condition, bench, fitted)?.prediction ?? null,
};
