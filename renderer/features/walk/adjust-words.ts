import type { StepAction } from '../../../shared-core/kit/kit.ts';
import type { AdjustHint } from '../../../shared-core/prediction/adjust-hint.ts';
import { formatNumber, formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

/** As the meter shows it on the range in use: 0.4 V, not 400 mV. */
function figure(value: number, unit: Unit, digits = 3): string {
  return unit === 'V' && Math.abs(value) >= 1e-3
    ? `${formatNumber(value, digits)}\u202fV`
    : formatQuantity(value, unit, digits);
}

export type AdjustAction = Extract<StepAction, { kind: 'adjust' }>;

/** The target of an adjust step: "0.4 V, between 0.38 V and 0.42 V". */
export function targetWords({ target, within }: AdjustAction, unit: Unit): string {
  const width = Math.abs(target) * within;
  const [low, high] = [target - width, target + width].map((value) => figure(value, unit));
  return `${figure(target, unit)}, between ${low} and ${high}`;
}

/** What to do next: "0.28 V to go: turn P2 clockwise, about 34 % of its travel, a little at a time." */
export function turnWords({ control, target }: AdjustAction, hint: AdjustHint, unit: Unit): string {
  if (hint.isThere) return 'On target.';
  const isPast = hint.toGo !== 0 && Math.sign(hint.toGo) !== Math.sign(target);
  const toGo = `${figure(Math.abs(hint.toGo), unit, 2)} ${isPast ? 'too much' : 'to go'}`;
  if (hint.direction === null) return `${toGo}.`;
  const amount = hint.share === null ? '' : `, ${shareWords(hint.share)}`;
  return `${toGo}: turn ${control} ${hint.direction}${amount}, a little at a time.`;
}

function shareWords(share: number): string {
  const percent = share * 100;
  return percent < 1
    ? 'hardly at all'
    : `about ${formatQuantity(share, '%', percent < 10 ? 1 : 2)} of its travel`;
}

/** What else there is to say: what went wrong with the last turn, how finely it turns, where its end is. */
export function adjustRemarks({ control }: AdjustAction, hint: AdjustHint, unit: Unit): readonly string[] {
  if (hint.isThere) return [];
  const remarks: string[] = [];
  if (hint.isOvershot) remarks.push('The last turn went past the target: turn back, half as far.');
  if (hint.lastTurn === 'away') {
    remarks.push(
      `The reading moved away from the target. If ${control} was turned as said here, its outer leads may be exchanged: pull the plug.`,
    );
  }
  if (hint.lastTurn === 'nothing') {
    remarks.push(
      `The reading has hardly moved. If ${control} was turned, it may stand at the end of its travel, or its wiper touches nothing: do not force it.`,
    );
  }
  if (hint.perTwentieth !== null && hint.perTwentieth > 0) {
    const moved = figure(hint.perTwentieth, unit, 2);
    remarks.push(`Computed: where it stands now, a twentieth of its travel moves the reading by ${moved}.`);
  }
  if (hint.end === 'beyond' && hint.endValue !== null) {
    const end = figure(hint.endValue, unit, 2);
    remarks.push(
      `By the computation the end of its travel gives ${end}: the target may be out of reach. At the end of the travel stop, do not force it, and ask the maker.`,
    );
  }
  if (hint.end === 'near')
    remarks.push(`The target lies close to the end of its travel: do not force ${control}.`);
  return remarks;
}
