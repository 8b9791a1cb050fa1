import { normalDraw, type Random } from '../numerics/random.ts';

/**
 * How a quantity scatters about its nominal value, as relative deviations.
 *
 * `bell`: a normal distribution whose limits are two standard deviations away, cut off at the limits
 * (common practice, no source: makers sort to the limits and aim at the middle). `flat`: anything
 * between the limits is equally likely. `log-normal`: the logarithm is normal, the limits are one standard
 * deviation away, cut off at three. Limits may differ in size; one side may be 0.
 */
export interface Spread {
  readonly quantity: string;
  /** In the builder's words: "mains voltage", "R4", "V2 anode current". */
  readonly what: string;
  readonly low: number;
  readonly high: number;
  readonly shape: 'bell' | 'flat' | 'log-normal';
  /** Where the limits come from. */
  readonly source: string;
}

/** Limits of a bell are this many standard deviations from the middle. */
export const limitDeviations = 2;

/** A log-normal spread is cut off at this many standard deviations: beyond lies no valve that left a factory. */
const logNormalCut = 3;

/** One draw of a relative deviation. */
export function drawDeviation(spread: Spread, random: Random): number {
  if (spread.shape === 'flat') return spread.low + (spread.high - spread.low) * random();
  for (;;) {
    const step = normalDraw(random);
    if (spread.shape === 'log-normal') {
      if (Math.abs(step) > logNormalCut) continue;
      return (1 + (step < 0 ? spread.low : spread.high)) ** Math.abs(step) - 1;
    }
    if (Math.abs(step) <= limitDeviations) {
      return (step < 0 ? -spread.low : spread.high) * (step / limitDeviations);
    }
  }
}

/**
 * The two deviations at which a response is computed: one standard deviation to either side, or two
 * points on the only side there is.
 */
export function probeDeviations(spread: Spread): readonly [number, number] {
  if (spread.shape === 'log-normal') return [spread.low, spread.high];
  const part = spread.shape === 'flat' ? 1 / Math.sqrt(3) : 1 / limitDeviations;
  if (spread.low === 0) return [spread.high / 2, spread.high];
  if (spread.high === 0) return [spread.low / 2, spread.low];
  return [spread.low * part, spread.high * part];
}

/** Steps of the sums below: the moments are right to a tenth of a percent. */
const momentSteps = 200;

/** Mean and variance of a deviation, by a sum over its distribution. */
export function spreadMoments(spread: Spread): { readonly mean: number; readonly variance: number } {
  const { low, high, shape } = spread;
  if (shape === 'flat') return { mean: (low + high) / 2, variance: (high - low) ** 2 / 12 };
  const end = shape === 'bell' ? limitDeviations : logNormalCut;
  let [weights, sum, squares] = [0, 0, 0];
  for (let step = 0; step < momentSteps; step += 1) {
    const at = (end * (2 * (step + 0.5))) / momentSteps - end;
    const weight = Math.exp(-(at * at) / 2);
    const limit = at < 0 ? low : high;
    const deviation = shape === 'bell' ? (Math.abs(at) / end) * limit : (1 + limit) ** Math.abs(at) - 1;
    weights += weight;
    sum += weight * deviation;
    squares += weight * deviation * deviation;
  }
  const mean = sum / weights;
  return { mean, variance: squares / weights - mean * mean };
}
