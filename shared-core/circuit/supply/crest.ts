/** Highest value of a sampled curve, by the parabola through the highest sample and its neighbours. */
export class Crest {
  peak = 0;
  #times: [number, number] = [0, 0];
  #values: [number, number] = [0, 0];

  add(time: number, value: number): void {
    const [t0, t1] = this.#times;
    const [y0, y1] = this.#values;
    this.peak = Math.max(this.peak, value);
    if (y1 >= y0 && y1 > value && t1 > t0) {
      const [left, right] = [(y1 - y0) / (t1 - t0), (value - y1) / (time - t1)];
      const bend = (right - left) / (time - t0);
      const slope = left + bend * (t1 - t0);
      if (bend < 0) this.peak = Math.max(this.peak, y1 - (slope * slope) / (4 * bend));
    }
    this.#times = [t1, time];
    this.#values = [y1, value];
  }
}

/** Lowest and highest value of a curve known by values and slopes. */
export class Range {
  low: number;
  high: number;

  constructor(start: number) {
    this.low = start;
    this.high = start;
  }

  add(step: number, before: number, beforeSlope: number, after: number, afterSlope: number): void {
    this.low = Math.min(this.low, after);
    this.high = Math.max(this.high, after);
    if (beforeSlope * afterSlope < 0) {
      // Slopes joined by a straight line: the turn lies where it crosses zero.
      const turn = before + (beforeSlope * beforeSlope * step) / (2 * (beforeSlope - afterSlope));
      this.low = Math.min(this.low, turn);
      this.high = Math.max(this.high, turn);
    }
  }
}
