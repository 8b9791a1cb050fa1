import { normalDraw, seededRandom, seedOfText } from '../../shared-core/numerics/random.ts';
import type { ReadingPrediction, StorePrediction } from '../../shared-core/prediction/prediction.ts';
import { curveVolts } from '../../shared-core/safety/drain-curve.ts';

/**
 * What an invented meter shows in an invented amplifier: the engine's own prediction with a seeded deviation.
 *
 * Not a measurement of anything. Each reading is drawn from its band as it stands after the readings before it, so
 * that they belong to one amplifier: a high mains shows in all of them.
 */
export class InventedMeter {
  private readonly seed: number;

  constructor(seed: number) {
    this.seed = seed;
  }

  /**
   * What is typed for a reading of a healthy amplifier, as a meter of four figures shows it.
   *
   * @param prediction The reading's expectation after those before it.
   */
  reading(prediction: ReadingPrediction, occasion = 0): string {
    const { predicted, nominal, low, high } = prediction;
    if (predicted === 'overload') return 'OL';
    // On the lamp limiter nothing is predicted: three quarters of the stop limit, as without load.
    if (predicted === 'none') return fourFigures((prediction.stopAbove ?? 0) * 0.75);
    const draw = this.normal(`${prediction.id} ${occasion}`);
    if (nominal !== null && low !== null && high !== null) {
      const place = Math.max(-0.95, Math.min(0.95, 0.33 * draw));
      return fourFigures(nominal + place * (place < 0 ? nominal - low : high - nominal));
    }
    if (high !== null) return fourFigures(high * (0.3 + 0.05 * Math.abs(draw)));
    return fourFigures((low ?? 0) * (40 + 10 * Math.abs(draw)));
  }

  /**
   * Volts left in a store.
   *
   * @param heat 0: cold valves, the likely curve; 1: hot valves, the fast one. Between them in logarithms.
   * @param seconds Since the plug came out, in seconds (s); null when the stores were never charged.
   */
  store(store: StorePrediction, seconds: number | null, heat: number): number {
    const resting = 0.02 + 0.01 * Math.abs(this.normal(`rest ${store.part}`));
    if (seconds === null) return rounded(resting);
    const own = seconds * (1 + 0.03 * this.normal(`drain ${store.part}`));
    const likely = curveVolts(store.likely, own) ?? 0;
    const fast = curveVolts(store.fast, own) ?? 0;
    const volts = Math.exp(
      (1 - heat) * Math.log(Math.max(likely, 1e-3)) + heat * Math.log(Math.max(fast, 1e-3)),
    );
    // Dielectric absorption: a few hundredths of a per cent of what was there creep back.
    return rounded(Math.max(volts, store.volts * 4e-4, resting));
  }

  /** A length of time around a middle one, in seconds (s). */
  about(seconds: number, what: string): number {
    return seconds * Math.exp(0.25 * this.normal(what));
  }

  private normal(name: string): number {
    return normalDraw(seededRandom(this.seed ^ seedOfText(name)));
  }
}

/** Four figures with the prefix that a meter would show. */
function fourFigures(value: number): string {
  const size = Math.abs(value);
  const [scale, prefix] = size >= 1e6 ? [1e6, ' M'] : size >= 1e3 ? [1e3, ' k'] : [1, ''];
  return `${Number((value / scale).toPrecision(4))}${prefix}`;
}

function rounded(volts: number): number {
  return volts >= 100 ? Math.round(volts * 10) / 10 : Math.round(volts * 100) / 100;
}
