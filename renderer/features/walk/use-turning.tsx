import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Verdict } from '../../../shared-core/bands/verdict.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import { useAdjuster } from '../../bridge/use-adjuster.ts';
import { ActButton } from '../../components/act-button.tsx';
import { AdjustTarget, hintOf } from './adjust-target.tsx';
import type { AdjustAction } from './adjust-words.ts';
import { VerdictMark } from '../../components/verdict-mark.tsx';
import type { StepPageProps } from './step-props.ts';

/** An adjust step in progress: read, turn, read again, until the target is met or given up. */
interface Turning {
  /** The target with what to turn; null for steps that adjust nothing. */
  readonly target: ReactNode;
  /** How many numbers were entered: each one empties the field for the next. */
  readonly count: number;
  /** After a number with this verdict the turning goes on, and nothing is kept yet. */
  readonly isOn: (verdict: Verdict) => boolean;
  /** The way out where the target is not met. */
  readonly giveUp: ReactNode;
  readonly begin: () => void;
}

/** What an adjust step adds to the readings of a step. */
export function useTurning({ build, adjust }: StepPageProps & { readonly adjust?: AdjustAction }): Turning {
  const [hasGivenUp, setGivenUp] = useState(false);
  const curve = useAdjuster(adjust?.reading ?? null);
  const begin = (): void => setGivenUp(false);
  const reading = build.kit.readings.find(({ id }) => id === adjust?.reading);
  if (adjust === undefined || reading === undefined) {
    return { target: null, count: 0, isOn: () => false, giveUp: null, begin };
  }
  const record = build.build.readings[reading.id];
  const hint = hintOf(adjust, record, curve);
  const unit = unitOfMeasure(reading.measure);
  return {
    target: <AdjustTarget adjust={adjust} unit={unit} record={record} curve={curve} />,
    count: record?.entries.length ?? 0,
    isOn: (verdict) =>
      !hasGivenUp && hint?.isThere === false && verdict !== 'stop' && verdict !== 'still warming',
    giveUp: (
      <div className="adjust-out">
        {record === undefined ? null : <VerdictMark verdict={record.verdict} />}
        <ActButton look="quiet" onAct={() => setGivenUp(true)}>
          It does not come to the target
        </ActButton>
      </div>
    ),
    begin,
  };
}
