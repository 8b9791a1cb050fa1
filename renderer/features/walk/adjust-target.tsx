import type { ReadingRecord } from '../../../shared-core/journal/build-state.ts';
import { adjustHint } from '../../../shared-core/prediction/adjust-hint.ts';
import type { AdjustHint } from '../../../shared-core/prediction/adjust-hint.ts';
import type { AdjusterCurve } from '../../../shared-core/prediction/adjuster-curve.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';
import { adjustRemarks, targetWords, turnWords } from './adjust-words.ts';
import type { AdjustAction } from './adjust-words.ts';

interface AdjustTargetProps {
  readonly adjust: AdjustAction;
  readonly unit: Unit;
  readonly record: ReadingRecord | undefined;
  readonly curve: AdjusterCurve | null;
}

/** Always in sight at an adjust step: the target, and what to turn which way after each number. */
export function AdjustTarget({ adjust, unit, record, curve }: AdjustTargetProps) {
  const hint = hintOf(adjust, record, curve);
  return (
    <div className="adjust-target">
      <p>
        Target of {adjust.control}: <strong>{targetWords(adjust, unit)}</strong>
      </p>
      {hint === null ? (
        <p className="large">Read it first, then turn.</p>
      ) : (
        <>
          <output className="large">{turnWords(adjust, hint, unit)}</output>
          {adjustRemarks(adjust, hint, unit).map((remark) => (
            <p key={remark}>{remark}</p>
          ))}
        </>
      )}
    </div>
  );
}

/** The hint after the last numbers; null before the first one. */
export function hintOf(
  adjust: AdjustAction,
  record: ReadingRecord | undefined,
  curve: AdjusterCurve | null,
): AdjustHint | null {
  const values = (record?.counts === true ? record.entries : []).flatMap(({ entry }) =>
    entry.kind === 'value' ? [entry.value] : [],
  );
  return values.length === 0 ? null : adjustHint(adjust, curve, values.slice(-2));
}
