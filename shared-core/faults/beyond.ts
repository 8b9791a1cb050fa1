import type { FaultModel, ModelledFault } from './fault-model.ts';
import { covarianceOf, gaussianOf, logDensity, logSum } from './gaussian.ts';
import { logAnything, type Taken } from './likelihood.ts';

/** How many of the likeliest faults a second one is tried on top of. */
const bases = 3;

/** Sizes of a second fault's moves, as shares of the variance of all single faults' moves. */
const sizes = [1, 0.05, 0.0025];

/** The covariance of what single faults move is clipped at this many times a reading's own size. */
const mostMove = 1;

/**
 * Logarithm of the likelihood that two faults, or something outside the model, made the readings.
 *
 * A second fault on top of the likeliest first ones, and something unknown on top of a healthy amplifier: the
 * first's expectation, with the moves of all single faults as one more covariance, in three sizes. Readings
 * that are not figures are as likely as anything.
 */
export function logBeyond(
  model: FaultModel,
  taken: readonly Taken[],
  ranked: readonly { readonly fault: ModelledFault; readonly log: number }[],
): number {
  const first = ranked.slice(0, bases).map(({ fault }) => fault);
  const expectations = [model.healthy, ...first];
  const logs = expectations.flatMap((base) => {
    const figures = taken.filter(
      ({ place, value }) => Number.isFinite(base.values[place]!) && Number.isFinite(value),
    );
    const places = figures.map(({ place }) => place);
    const size = places.length;
    const plain = covarianceOf(base.factors, base.own, model.quantities.length, places);
    const moves = movesOf(model, places);
    const odd = taken.reduce((sum, each) => {
      if (figures.includes(each)) return sum;
      const expected = base.values[each.place]!;
      const same = (expected === Infinity) === (each.value === Infinity) && !Number.isNaN(expected);
      return (
        sum + (same ? Math.log(0.9) : logAnything(model.readings[each.place]!, each.value) + Math.log(0.1))
      );
    }, 0);
    return sizes.map((share) => {
      const covariance = plain.map((value, index) => value + share * moves[index]!);
      const departure = Float64Array.from(figures, ({ place, value }) => value - base.values[place]!);
      return odd + logDensity(gaussianOf(covariance, size), departure);
    });
  });
  return logSum(logs) - Math.log(logs.length);
}

/** Mean square of what single faults move, reading by reading, as a covariance. */
function movesOf({ faults, healthy, readings }: FaultModel, places: readonly number[]): Float64Array {
  const size = places.length;
  const matrix = new Float64Array(size * size);
  const move = new Float64Array(size);
  for (const fault of faults) {
    places.forEach((place, index) => {
      const usual = healthy.values[place]!;
      const by = fault.values[place]! - usual;
      const most =
        mostMove * (Number.isFinite(usual) ? Math.abs(usual) : 0) + leastMove[readings[place]!.measure];
      move[index] = Number.isFinite(by) ? Math.max(-most, Math.min(most, by)) : 0;
    });
    for (let row = 0; row < size; row += 1) {
      const own = move[row]! * fault.prior;
      if (own === 0) continue;
      for (let column = 0; column <= row; column += 1) matrix[row * size + column]! += own * move[column]!;
    }
  }
  for (let row = 0; row < size; row += 1) {
    for (let column = row + 1; column < size; column += 1)
      matrix[row * size + column] = matrix[column * size + row]!;
  }
  return matrix;
}

/** A second fault may move a reading by this whatever its size: V, Ω, gain. */
const leastMove = { 'dc volts': 20, 'ac volts': 5, ohms: 100, insulation: 0, gain: 1 } as const;
