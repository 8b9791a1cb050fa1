import { quantileOfSorted } from '../bands/quantile.ts';
import type { FaultModel } from './fault-model.ts';
import { gaussianOf, whitenBy } from './gaussian.ts';

/** Share of healthy builds that pass the gate. */
export const gateShare = 0.98;

/**
 * The limit is that share's quantile at the upper end of its own uncertainty, this many standard deviations of a
 * count up: one side of 98 %.
 */
const limitSigmas = 2;

/** Simulated builds that a limit is read off: their 98 % is then right to 0.2 %, and each new reading waits little. */
const mostBuilds = 6000;

/** A build held against healthy ones. */
export interface GateAnswer {
  readonly healthy: boolean;
  /** Mahalanobis distance of the readings from those of healthy builds, in standard deviations. */
  readonly distance: number;
  /** Healthy builds keep nearer than this, but for the false alarms. */
  readonly limit: number;
  /** Share of healthy builds that would be stopped here all the same. */
  readonly falseAlarmLevel: number;
}

/** A set of readings made ready for many builds. */
export interface Gate {
  readonly judge: (values: readonly number[]) => GateAnswer;
}

/**
 * The healthy gate: is anything wrong at all?
 *
 * The distance of P. C. Mahalanobis (Proc. Nat. Inst. Sci. India 2, 1936), and the largest departure of any one
 * reading beside it: a fault that moves one reading drowns among fifty others in the distance alone. Both limits
 * are read off simulated healthy builds that had no part in the covariance, the two together at 98 %. A figure
 * where healthy builds show OL, or OL where they show a figure, is not healthy whatever the others are.
 */
export function openGate(model: FaultModel, places: readonly number[]): Gate {
  const { joint, readings, builds, healthy } = model;
  const figures = places.filter((place) => builds[place] !== null && Number.isFinite(healthy.values[place]));
  const index = figures.map((place) => joint.ids.indexOf(readings[place]!.id));
  const size = figures.length;
  const covariance = new Float64Array(size * size);
  index.forEach((one, row) => {
    index.forEach((other, column) => {
      covariance[row * size + column] = joint.covariance[one]?.[other] ?? 0;
    });
    covariance[row * size + row]! += (joint.lookSigma[one] ?? 0) ** 2;
  });
  const gaussian = gaussianOf(covariance, size);
  const vector = new Float64Array(size);
  const measure = (valueOf: (column: number) => number): readonly [number, number] => {
    let largest = 0;
    for (let column = 0; column < size; column += 1) {
      const departure = valueOf(column) - (joint.centre[index[column]!] ?? 0);
      vector[column] = departure;
      largest = Math.max(largest, Math.abs(departure) / Math.sqrt(covariance[column * size + column]!));
    }
    return [whitenBy(gaussian, vector), largest];
  };
  const columns = figures.map((place) => builds[place]!);
  const count = Math.min(mostBuilds, columns[0]?.length ?? 0);
  const squares = new Float64Array(count);
  const largests = new Float64Array(count);
  for (let build = 0; build < count; build += 1) {
    const [square, largest] = measure((column) => columns[column]![build]!);
    squares[build] = square;
    largests[build] = largest;
  }
  const limits = jointLimits(squares, largests);
  return {
    judge: (values) => {
      const shown = new Map(places.map((place, order) => [place, values[order]!]));
      const isOdd = places.some((place) => isOddKind(healthy.values[place]!, shown.get(place)!));
      const [square, largest] = measure((column) => {
        const value = shown.get(figures[column]!)!;
        return Number.isFinite(value) ? value : (joint.centre[index[column]!] ?? 0);
      });
      const healthyHere = !isOdd && square <= limits.square && largest <= limits.largest;
      return {
        ...{ healthy: healthyHere, distance: Math.sqrt(square), limit: Math.sqrt(limits.square) },
        falseAlarmLevel: 1 - gateShare,
      };
    },
  };
}

function isOddKind(expected: number, value: number): boolean {
  return (expected === Infinity) !== (value === Infinity) && !Number.isNaN(expected);
}

/** The two limits that together let 98 of 100 healthy builds pass, each as strict as the other. */
function jointLimits(
  squares: Float64Array,
  largests: Float64Array,
): { readonly square: number; readonly largest: number } {
  const count = squares.length;
  if (count === 0) return { square: Infinity, largest: Infinity };
  const [bySquare, byLargest] = [squares.toSorted(), largests.toSorted()];
  const wanted = Math.min(1, gateShare + limitSigmas * Math.sqrt((gateShare * (1 - gateShare)) / count));
  const at = (share: number): { readonly square: number; readonly largest: number } => ({
    square: quantileOfSorted(bySquare, share),
    largest: quantileOfSorted(byLargest, share),
  });
  const passing = (share: number): number => {
    const { square, largest } = at(share);
    let inside = 0;
    for (let build = 0; build < count; build += 1) {
      if (squares[build]! <= square && largests[build]! <= largest) inside += 1;
    }
    return inside / count;
  };
  let [low, high] = [wanted, 1];
  for (let halving = 0; halving < 20; halving += 1) {
    const middle = (low + high) / 2;
    if (passing(middle) < wanted) low = middle;
    else high = middle;
  }
  return at(high);
}
