import { formatQuantity } from '../units/format-quantity.ts';
import type { ReadingPrediction } from '../prediction/prediction.ts';
import type { MeterEntry, Verdict } from './verdict.ts';

/** When the reading was taken, against when the condition counts as settled. */
export interface JudgeTiming {
  /** In seconds (s); null when the amplifier is off or the time is not known. */
  readonly secondsSinceSwitchOn: number | null;
  /** The condition's `ready-after`, in seconds (s). */
  readonly readyAfter: number;
}

/** A verdict with what to tell the builder. */
export interface Judgement {
  readonly verdict: Verdict;
  /** Distance from nominal, in percent, with sign; null without a nominal figure. */
  readonly percentFromNominal: number | null;
  readonly words: string;
}

/** A reading near open circuit that leakage and fingers can explain, in ohms (Ω): common practice, no source. */
const nearlyOpenOhms = 20e6;

/**
 * Judges what the meter showed.
 *
 * Stop limits come first, with their sign, at any time. Before `readyAfter` nothing else is judged.
 *
 * @param prediction The reading's expectation; never narrowed by other readings where a *stop* or an
 *   *out of band* is at stake.
 * @param conditioned The same reading after other readings were taken into account: it may make a
 *   verdict stricter, never milder.
 */
export function judge(
  prediction: ReadingPrediction,
  entry: MeterEntry,
  timing: JudgeTiming,
  conditioned?: ReadingPrediction,
): Judgement {
  const stopped = judgeStop(prediction, entry);
  if (stopped) return stopped;
  const { secondsSinceSwitchOn, readyAfter } = timing;
  if (secondsSinceSwitchOn !== null && secondsSinceSwitchOn < readyAfter) {
    const wait = Math.ceil(readyAfter - secondsSinceSwitchOn);
    return {
      verdict: 'still warming',
      percentFromNominal: percentOf(prediction, entry),
      words: `still warming · ready in ${wait} s`,
    };
  }
  const plain = judgeBand(prediction, entry);
  if (!conditioned) return plain;
  const narrowed = judgeBand(conditioned, entry);
  return severity(narrowed.verdict) > severity(plain.verdict) ? narrowed : plain;
}

function severity(verdict: Verdict): number {
  return ['as expected', 'borderline', 'out of band', 'stop'].indexOf(verdict);
}

function percentOf(prediction: ReadingPrediction, entry: MeterEntry): number | null {
  if (entry.kind !== 'value' || prediction.nominal === null || prediction.nominal === 0) return null;
  const percent = (100 * (entry.value - prediction.nominal)) / Math.abs(prediction.nominal);
  return Number.isFinite(percent) ? percent : null;
}

function judgeStop(prediction: ReadingPrediction, entry: MeterEntry): Judgement | null {
  const isVolts = prediction.unit === 'V';
  if (entry.kind === 'overload') {
    if (!isVolts || (prediction.stopAbove === null && prediction.stopBelow === null)) return null;
    return {
      verdict: 'stop',
      percentFromNominal: null,
      words: 'stop · more than the meter can show: pull the plug, then look at its range',
    };
  }
  const unit = prediction.unit;
  const percentFromNominal = percentOf(prediction, entry);
  if (prediction.stopAbove !== null && entry.value > prediction.stopAbove) {
    const words = `stop · above ${formatQuantity(prediction.stopAbove, unit, 3)}: pull the plug`;
    return { verdict: 'stop', percentFromNominal, words };
  }
  if (prediction.stopBelow !== null && entry.value < prediction.stopBelow) {
    const words = `stop · below ${formatQuantity(prediction.stopBelow, unit, 3)}: pull the plug`;
    return { verdict: 'stop', percentFromNominal, words };
  }
  return null;
}

function judgeBand(prediction: ReadingPrediction, entry: MeterEntry): Judgement {
  if (prediction.predicted === 'none') {
    const why = prediction.why ? `: ${prediction.why}` : '';
    return { verdict: 'not predicted', percentFromNominal: null, words: `not predicted${why}` };
  }
  if (prediction.predicted === 'overload') return judgeAgainstOverload(prediction, entry);
  if (entry.kind === 'overload') {
    const words = 'out of band · OL where a figure is expected';
    return { verdict: 'out of band', percentFromNominal: null, words };
  }
  const isInside = isBetween(entry.value, prediction.low, prediction.high);
  const isNear =
    isInside ||
    (prediction.source === 'computed' && isBetween(entry.value, prediction.lowest, prediction.highest));
  const verdict = isInside ? 'as expected' : isNear ? 'borderline' : 'out of band';
  return {
    verdict,
    percentFromNominal: percentOf(prediction, entry),
    words: `${verdict} · ${distanceWords(prediction, entry.value)}`,
  };
}

function judgeAgainstOverload(prediction: ReadingPrediction, entry: MeterEntry): Judgement {
  if (entry.kind === 'overload') {
    return { verdict: 'as expected', percentFromNominal: null, words: 'as expected · OL' };
  }
  const isNearlyOpen = prediction.source === 'computed' && entry.value >= nearlyOpenOhms;
  const verdict = isNearlyOpen ? 'borderline' : 'out of band';
  const shown = formatQuantity(entry.value, prediction.unit, 3);
  return { verdict, percentFromNominal: null, words: `${verdict} · ${shown} where OL is expected` };
}

function isBetween(value: number, low: number | null, high: number | null): boolean {
  return (low === null || value >= low) && (high === null || value <= high);
}

function distanceWords(prediction: ReadingPrediction, value: number): string {
  const { nominal, low, high, unit } = prediction;
  if (nominal === null) {
    if (high !== null && value > high) return `should be below ${formatQuantity(high, unit, 3)}`;
    if (low !== null && value < low) return `should be above ${formatQuantity(low, unit, 3)}`;
    return high === null
      ? `above ${formatQuantity(low ?? 0, unit, 3)}, as it should be`
      : `below ${formatQuantity(high, unit, 3)}, as it should be`;
  }
  const distance = value - nominal;
  const side = distance < 0 ? 'below' : 'above';
  const width = Math.max((high ?? nominal) - (low ?? nominal), 0);
  if (Math.abs(nominal) < width) {
    return distance === 0 ? 'as computed' : `${formatQuantity(Math.abs(distance), unit, 3)} ${side}`;
  }
  const percent = (100 * Math.abs(distance)) / Math.abs(nominal);
  if (percent < 0.05) return 'as computed';
  return `${percent < 10 ? Number(percent.toPrecision(1)) : Math.round(percent)} % ${side}`;
}
