import type { ReadingPrediction } from '../prediction/prediction.ts';
import type { ReadingFacts } from '../safety/facts.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';

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
