import type { Expectation } from '../../../shared-core/contract/calls.ts';
import type { DrainCurve, ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';

/** A seeded source of numbers from 0 to 1 (Steele and Vigna's SplitMix, cut to 32 bits). */
export function seededNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  };
}

/**
 * What a builder with a healthy amplifier would read: near the expectation as it stands after the readings
 * so far, since readings of one amplifier go together.
 */
export function likelyEntry(expectation: Expectation, reading: string, chance: () => number): string {
  const plain = expectation.prediction.readings.find(({ id }) => id === reading);
  const told = expectation.conditioned.find(({ id }) => id === reading) ?? plain;
  if (plain === undefined || told === undefined) throw new Error(`No expectation of ${reading}`);
  if (plain.predicted === 'overload') return 'OL';
  return asTyped(likelyFigure(told, chance), plain.unit);
}

function likelyFigure({ nominal, low, high, stopAbove }: ReadingPrediction, chance: () => number): number {
  if (low !== null && high !== null) {
    const middle = nominal !== null && nominal > low && nominal < high ? nominal : (low + high) / 2;
    // A quarter of the band at most, to either side.
    return middle + (chance() - 0.5) * 0.5 * Math.min(high - middle, middle - low);
  }
  if (high !== null) return high * (0.3 + 0.3 * chance());
  if (low !== null) return low * (10 + 10 * chance());
  return nominal ?? (stopAbove ?? 1) * 0.7;
}

/** A figure as a meter of four digits shows it: `183.2k`, `1.02M`, `8.31`. */
export function asTyped(value: number, unit: string): string {
  const shown = (figure: number): string => String(Number(figure.toPrecision(4)));
  if (unit !== 'Ω') return shown(value);
  if (value >= 1e6) return `${shown(value / 1e6)}M`;
  return value >= 1e3 ? `${shown(value / 1e3)}k` : shown(value);
}

/** A curve at a time, in volts (V); the last point after its end. */
export function voltsAt({ seconds, volts }: DrainCurve, at: number): number {
  const next = seconds.findIndex((each) => each >= at);
  return volts[next === -1 ? volts.length - 1 : next] ?? 0;
}
