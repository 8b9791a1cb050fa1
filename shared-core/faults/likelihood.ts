import type { Reading } from '../kit/kit.ts';
import { topRangeOhms } from '../prediction/meter.ts';
import type { Expectation } from './fault-model.ts';
import { covarianceOf, gaussianOf, logDensity } from './gaussian.ts';

/** A reading that was taken: its place in the model and what the meter showed. */
export interface Taken {
  readonly place: number;
  /** In the reading's SI unit, as shown (leads' ohms still in it); ∞ is OL. */
  readonly value: number;
}

/** An ohmmeter shows a figure where it should show OL, or the other way round, this often: common practice, no source. */
const oddOverload = 1e-4;

/** Leakage and fingers bring a figure from here on where OL is expected, in ohms (Ω): common practice, no source. */
const nearlyOpenOhms = 10e6;

/** Where nothing is predicted a voltage may be anywhere up to this, in volts (V). */
const anyVolts = 500;

/** Decades over which an unpredicted resistance or gain may lie. */
const anyDecades = 8;

/** Natural logarithm of the density of a reading that is not predicted. */
export function logAnything({ measure }: Reading, value: number): number {
  if (value === Infinity) return Math.log(0.5);
  const size = Math.abs(value);
  if (measure === 'ohms') return -Math.log((size + 1) * anyDecades * Math.LN10) + Math.log(0.5);
  if (measure === 'gain') return -Math.log((size + 0.01) * anyDecades * Math.LN10);
  // Half of what nobody foresaw is nothing at all.
  return Math.log(0.5 / (2 * anyVolts) + (0.5 * Math.exp(-size / 0.2)) / 0.4);
}

/** A reading whose kind (figure, OL, not predicted) decides alone; null where it is a figure against a figure. */
function logOfKind(reading: Reading, expected: number, value: number): number | null {
  if (Number.isNaN(expected)) return logAnything(reading, value);
  if (expected === Infinity) {
    if (value === Infinity) return 0;
    const isLeak = value >= nearlyOpenOhms;
    return (isLeak ? Math.log(0.05) : Math.log(oddOverload)) + logAnything(reading, value);
  }
  if (value !== Infinity) return null;
  return expected > topRangeOhms / 2 ? Math.log(0.3) : Math.log(oddOverload);
}

/**
 * Logarithm of the likelihood of all readings taken, under what one amplifier is expected to show.
 *
 * Figures go together by their covariance; OL, and what is not predicted, stand alone.
 */
export function logLikelihood(
  expectation: Expectation,
  readings: readonly Reading[],
  width: number,
  taken: readonly Taken[],
): number {
  let sum = 0;
  const places: number[] = [];
  const departures: number[] = [];
  for (const { place, value } of taken) {
    const kind = logOfKind(readings[place]!, expectation.values[place]!, value);
    if (kind !== null) sum += kind;
    else {
      places.push(place);
      departures.push(value - expectation.values[place]!);
    }
  }
  const covariance = covarianceOf(expectation.factors, expectation.own, width, places);
  return sum + logDensity(gaussianOf(covariance, places.length), Float64Array.from(departures));
}

/** The same, taken as if the readings had nothing to do with each other: an upper guess, cheap. */
export function logAlone(
  { values, variances }: { readonly values: Float64Array; readonly variances: Float64Array },
  readings: readonly Reading[],
  taken: readonly Taken[],
): number {
  let sum = 0;
  for (const { place, value } of taken) {
    const kind = logOfKind(readings[place]!, values[place]!, value);
    if (kind !== null) sum += kind;
    else {
      const variance = variances[place]!;
      sum -= 0.5 * ((value - values[place]!) ** 2 / variance + Math.log(variance));
    }
  }
  return sum;
}

/** Variance of each reading by itself. */
export function variancesOf({ factors, own }: Expectation, width: number): Float64Array {
  return Float64Array.from(own, (alone, row) => {
    let sum = alone;
    for (let at = row * width; at < (row + 1) * width; at += 1) sum += factors[at]! ** 2;
    return sum;
  });
}
