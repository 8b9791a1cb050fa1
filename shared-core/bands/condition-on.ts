import { solveSymmetric } from '../numerics/solve-symmetric.ts';
import type { ConditionPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import { type JointReadings, repeatability } from './predict-build.ts';

/** A reading that was taken and found good. */
export interface AcceptedReading {
  readonly id: string;
  /** In the reading's SI unit. */
  readonly value: number;
}

/** An expectation after other readings were taken into account. */
export interface ConditionedReading {
  readonly prediction: ReadingPrediction;
  /** "Because B+ reads 4 % high here, expect 191 V."; null when nothing moved. */
  readonly because: string | null;
}

/** A shift below this share of the expected value is not worth a sentence. */
export const shiftWorthSaying = 0.005;

/**
 * Narrows and shifts the expectations of a condition by the readings that were good.
 *
 * Gaussian conditioning on the covariance of the readings (C. E. Rasmussen, C. K. I. Williams,
 * "Gaussian Processes for Machine Learning", MIT Press 2006, eq. A.6). Stop limits are left alone;
 * readings outside their own outer band are ignored, since the covariance is of healthy amplifiers.
 *
 * @param labels What to call each reading in the sentence; its id otherwise.
 */
export function conditionOn(
  prediction: ConditionPrediction,
  accepted: readonly AcceptedReading[],
  labels: Readonly<Record<string, string>> = {},
): readonly ConditionedReading[] {
  return conditionReadings(prediction.readings, prediction.covariance, accepted, labels);
}

/**
 * Narrows and shifts the expectations of every condition by the good readings of all of them: what the
 * rectifier alone gave says what to expect with all valves. The limits of `conditionOn` hold.
 *
 * @param predictions Conditions, each reading in one of them.
 * @param joint How the readings of these conditions go together.
 * @returns For each condition, in order, its readings.
 */
export function conditionAcross(
  predictions: readonly ConditionPrediction[],
  joint: JointReadings,
  accepted: readonly AcceptedReading[],
  labels: Readonly<Record<string, string>> = {},
): readonly (readonly ConditionedReading[])[] {
  const readings = predictions.flatMap((prediction) => prediction.readings);
  const places = readings.map(({ id }) => joint.ids.indexOf(id));
  const covariance = places.map((row) => places.map((column) => joint.covariance[row]?.[column] ?? 0));
  const conditioned = conditionReadings(readings, covariance, accepted, labels);
  let from = 0;
  return predictions.map(({ readings: { length } }) => conditioned.slice(from, (from += length)));
}

function conditionReadings(
  readings: readonly ReadingPrediction[],
  covariance: readonly (readonly number[])[],
  accepted: readonly AcceptedReading[],
  labels: Readonly<Record<string, string>>,
): readonly ConditionedReading[] {
  const given = accepted.flatMap((entry) => {
    const index = readings.findIndex((reading) => reading.id === entry.id);
    const reading = readings[index];
    return reading && isUsable(reading, covariance[index]?.[index]) && isHealthy(reading, entry.value)
      ? [{ index, reading, departure: entry.value - middle(reading) }]
      : [];
  });
  if (given.length === 0) return readings.map((reading) => ({ prediction: reading, because: null }));
  const among = given.map(({ index, reading }) =>
    given.map((other) => {
      const noise = other.index === index ? (repeatability * middle(reading)) ** 2 + 1e-12 : 0;
      return (covariance[index]?.[other.index] ?? 0) + noise;
    }),
  );
  const across = given.map(({ index }) => readings.map((_, other) => covariance[index]?.[other] ?? 0));
  const weights = solveSymmetric(among, across);
  if (!weights) return readings.map((reading) => ({ prediction: reading, because: null }));
  return readings.map((reading, index) => {
    const variance = covariance[index]?.[index];
    if (!isUsable(reading, variance) || given.some((entry) => entry.index === index)) {
      return { prediction: reading, because: null };
    }
    const parts = given.map((entry, row) => (weights[row]?.[index] ?? 0) * entry.departure);
    const explained = given.reduce(
      (sum, _, row) => sum + (weights[row]?.[index] ?? 0) * (across[row]?.[index] ?? 0),
      0,
    );
    const narrowing = Math.sqrt(Math.max(0, Math.min(1, 1 - explained / (variance ?? 1))));
    const moved = moveReading(
      reading,
      parts.reduce((sum, part) => sum + part, 0),
      narrowing,
    );
    return { prediction: moved, because: sentence(reading, moved, given, parts, labels) };
  });
}

function isUsable(reading: ReadingPrediction, variance: number | undefined): variance is number {
  return (
    reading.predicted === 'value' &&
    reading.source === 'computed' &&
    reading.nominal !== null &&
    reading.low !== null &&
    reading.high !== null &&
    variance !== undefined &&
    variance > 0
  );
}

function isHealthy(reading: ReadingPrediction, value: number): boolean {
  return value >= (reading.lowest ?? -Infinity) && value <= (reading.highest ?? Infinity);
}

function middle(reading: ReadingPrediction): number {
  return ((reading.low ?? 0) + (reading.high ?? 0)) / 2;
}

function moveReading(reading: ReadingPrediction, shift: number, narrowing: number): ReadingPrediction {
  const centre = middle(reading);
  const edge = (limit: number | null): number | null =>
    limit === null ? null : centre + shift + (limit - centre) * narrowing;
  return {
    ...reading,
    nominal: centre + shift,
    low: edge(reading.low),
    high: edge(reading.high),
    lowest: edge(reading.lowest),
    highest: edge(reading.highest),
  };
}

function sentence(
  before: ReadingPrediction,
  after: ReadingPrediction,
  given: readonly { readonly reading: ReadingPrediction; readonly departure: number }[],
  parts: readonly number[],
  labels: Readonly<Record<string, string>>,
): string | null {
  const from = before.nominal ?? 0;
  const to = after.nominal ?? 0;
  if (Math.abs(to - from) < shiftWorthSaying * Math.abs(from)) return null;
  const strongest = parts.reduce(
    (best, part, index) => (Math.abs(part) > Math.abs(parts[best] ?? 0) ? index : best),
    0,
  );
  const cause = given[strongest];
  if (!cause) return null;
  const value = middle(cause.reading) + cause.departure;
  const reference = cause.reading.nominal ?? middle(cause.reading);
  const percent = reference === 0 ? 0 : (100 * (value - reference)) / Math.abs(reference);
  const name = labels[cause.reading.id] ?? cause.reading.id;
  const how =
    Math.abs(percent) < 0.5
      ? `reads ${formatQuantity(value, cause.reading.unit, 3)}`
      : `reads ${Math.abs(percent).toPrecision(percent >= 10 || percent <= -10 ? 2 : 1)} % ${percent > 0 ? 'high' : 'low'}`;
  return `Because ${name} ${how} here, expect ${formatQuantity(to, after.unit, 3)}.`;
}
