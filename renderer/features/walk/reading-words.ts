import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { ReadingFacts, StepFacts } from '../../../shared-core/safety/facts.ts';
import { isPassedOrAccepted } from '../../../shared-core/safety/lookup.ts';
import { isReadAfterSoak } from '../../../shared-core/safety/soak.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

/**
 * Stop limits in words: "stop above 12 V", "stop above 440 V, or at more than 37.2 V the wrong way round".
 *
 * Null where there is none. A meter shows the wrong way round as a minus; where the figure is meant to be negative,
 * words say which way is too far.
 */
export function stopWords(
  { stopAbove, stopBelow }: Pick<ReadingFacts, 'stopAbove' | 'stopBelow'>,
  unit: Unit,
): string | null {
  const figure = (value: number): string => formatQuantity(value, unit, 3);
  const isNegative = stopBelow !== null && stopBelow < 0 && (stopAbove ?? 1) <= 0;
  if (isNegative) {
    const less = stopAbove === null ? [] : [`closer to zero than ${figure(stopAbove)}`];
    return `stop ${[...less, `further from zero than ${figure(stopBelow)}`].join(' or ')}`;
  }
  const below =
    stopBelow === null
      ? []
      : stopBelow < 0
        ? [`at more than ${figure(-stopBelow)} the wrong way round`]
        : [`below ${figure(stopBelow)}`];
  const words = [...(stopAbove === null ? [] : [`above ${figure(stopAbove)}`]), ...below];
  return words.length === 0 ? null : `stop ${words.join(', or ')}`;
}

/**
 * The largest figure that the meter's range has to hold.
 *
 * A stop limit is told anyway; only without one the band's far end chooses the range, and a range is far
 * wider than a band.
 */
export function largestFigure(
  { stopAbove, stopBelow }: Pick<ReadingFacts, 'stopAbove' | 'stopBelow'>,
  expected: ReadingPrediction | null,
): number | null {
  const stops = [stopAbove, stopBelow].filter((each): each is number => each !== null).map(Math.abs);
  if (stops.length > 0) return Math.max(...stops);
  if (expected?.predicted !== 'value') return null;
  return expected.highest ?? expected.high ?? expected.nominal;
}

/**
 * The reading to take now: the first of the step that is not settled.
 *
 * After a soak, the first that was not taken again since.
 */
export function nextReading(
  readings: readonly string[],
  safety: SafetyState,
  soak: StepFacts | null = null,
): string | null {
  const isTaken = (id: string): boolean =>
    soak === null ? isPassedOrAccepted(id, safety) : isReadAfterSoak(soak, id, safety);
  return readings.find((id) => !isTaken(id)) ?? null;
}

/** What a good reading says: the expectation in words, once it may be shown. */
export function bandWords({ predicted, low, high, unit, why }: ReadingPrediction): string {
  if (predicted === 'overload') return 'OL is expected.';
  if (predicted === 'none') return why ?? 'Nothing is predicted here.';
  if (low === null && high !== null) return `Below ${formatQuantity(high, unit)} is expected.`;
  if (high === null && low !== null) return `Above ${formatQuantity(low, unit)} is expected.`;
  return `${formatQuantity(low ?? 0, unit)} to ${formatQuantity(high ?? 0, unit)} is expected.`;
}

/** The value lies in the band by itself. */
export function isInsideBand({ low, high }: Pick<ReadingPrediction, 'low' | 'high'>, value: number): boolean {
  return (low === null || value >= low) && (high === null || value <= high);
}
