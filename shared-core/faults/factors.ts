import { meterSpread, readingFloors } from '../bands/draw-readings.ts';
import type { ConditionBands } from '../bands/predict-bands.ts';
import { mainsDriftShare, repeatability } from '../bands/predict-build.ts';
import { type Spread, spreadMoments } from '../bands/spread.ts';
import type { Reading } from '../kit/kit.ts';
import type { Bench } from '../prediction/bench.ts';

/** The quick pictures of faults may be off by this share of what the fault moves: see the study of faults. */
const shiftError = 0.01;

/** A reading that only a fault has a figure for: one standard deviation, relative. */
const strangeSigma = 0.05;

/** One standard deviation of a quantity. */
export function sigmaOf(spread: Spread): number {
  return Math.sqrt(spreadMoments(spread).variance);
}

/** Change of each reading of a healthy amplifier by one standard deviation of each quantity. */
export function healthyFactors(
  bands: readonly ConditionBands[],
  readings: readonly Reading[],
  quantities: readonly string[],
  bench: Bench,
  values: Float64Array,
): Float32Array {
  const width = quantities.length;
  const factors = new Float32Array(readings.length * width);
  const column = new Map(quantities.map((name, index) => [name, index]));
  const row = new Map(readings.map(({ id }, index) => [id, index]));
  for (const { prediction, spreads, moved } of bands) {
    for (const { reading, fits } of moved) {
      const at = (row.get(reading.id) ?? 0) * width;
      spreads.forEach((spread, index) => {
        const slope = fits[index]?.slope ?? 0;
        setFactor(factors, at, column, spread.quantity, slope * sigmaOf(spread));
      });
      splitMains(factors, at, column, prediction.condition, bench);
    }
  }
  readings.forEach((reading, index) =>
    addMeter(factors, index * width, column, reading, bench, values[index]!),
  );
  return factors;
}

/** Writes one change into a row, where the quantity is known. */
export function setFactor(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  quantity: string,
  value: number,
): void {
  const place = column.get(quantity);
  if (place !== undefined) factors[at + place] = value;
}

/** Takes the part of the mains that is drawn anew in each condition out of the common one. */
export function splitMains(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  condition: string,
  bench: Bench,
): void {
  const share = mainsDriftShare(bench);
  const whole = factors[at + (column.get('mains') ?? 0)] ?? 0;
  if (!column.has('mains')) return;
  setFactor(factors, at, column, 'mains', whole * Math.sqrt(1 - share));
  setFactor(factors, at, column, `mains in ${condition}`, whole * Math.sqrt(share));
}

/** The meter's accuracy as one more quantity of a reading. */
export function addMeter(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  { measure }: Reading,
  bench: Bench,
  value: number,
): void {
  if (!Number.isFinite(value)) return;
  setFactor(factors, at, column, `meter ${measure}`, value * sigmaOf(meterSpread(bench, measure)));
}

/** A gain below this share of the healthy one drowns in hum and noise: common practice, no source. */
const leastGainShare = 0.005;

/** What a reading may be off by whatever the circuit does, to either side, in its SI unit. */
export function strayOf(measure: Reading['measure'], healthy: number): number {
  return measure === 'gain' ? leastGainShare * Math.abs(healthy) : readingFloors[measure];
}

/** What each reading has of its own: floor, a single look, and the error of a quick picture. */
export function ownVariances(
  readings: readonly Reading[],
  values: Float64Array,
  healthy: Float64Array,
): Float64Array {
  return Float64Array.from(readings, ({ measure }, index) => {
    const value = values[index]!;
    if (!Number.isFinite(value)) return 0;
    const usual = healthy[index]!;
    const shift = Number.isFinite(usual)
      ? shiftError * Math.min(Math.abs(value - usual), Math.abs(value))
      : strangeSigma * value;
    return strayOf(measure, usual) ** 2 / 3 + (repeatability * value) ** 2 + shift ** 2;
  });
}

/**
 * The quick picture of a fault brought to the scale of the healthy figure: what the missing ripple correction
 * and the mean of the scatter do to the one they do to the other.
 */
export function likeHealthy(value: number, quick: number, healthy: number): number {
  if (!Number.isFinite(value) || !Number.isFinite(quick) || !Number.isFinite(healthy)) return value;
  const ratio = quick === 0 ? 1 : healthy / quick;
  return ratio > 0.8 && ratio < 1.25 ? value * ratio : value + healthy - quick;
}
