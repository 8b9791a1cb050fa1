import type { DrainCurve } from '../prediction/prediction.ts';

const leastVolts = 1e-6;

/**
 * Voltage of a drain curve at a moment, interpolated in the logarithm of the voltage.
 *
 * Past the last sample the last slope is carried on; before the first, the first value holds.
 *
 * @param seconds Since the supply went, in seconds (s).
 * @returns Volts (V); null for an empty curve.
 */
export function curveVolts(curve: DrainCurve, seconds: number): number | null {
  const count = Math.min(curve.seconds.length, curve.volts.length);
  if (count === 0) return null;
  const first = curve.volts[0] ?? 0;
  if (count === 1 || seconds <= (curve.seconds[0] ?? 0)) return first;
  let right = curve.seconds.findIndex((each) => each >= seconds);
  if (right === -1 || right >= count) right = count - 1;
  const left = Math.max(0, right - 1);
  const leftSeconds = curve.seconds[left] ?? 0;
  const span = (curve.seconds[right] ?? 0) - leftSeconds;
  const leftLog = Math.log(Math.max(leastVolts, curve.volts[left] ?? 0));
  const rightLog = Math.log(Math.max(leastVolts, curve.volts[right] ?? 0));
  if (span <= 0) return Math.exp(rightLog);
  return Math.exp(leftLog + ((rightLog - leftLog) * (seconds - leftSeconds)) / span);
}
