import { solveComplex } from '../numerics/complex-matrix.ts';
import { solveTransposed } from '../numerics/solve-transposed.ts';
import type { Solver } from './solver.ts';
import { storageMatrix } from './storage.ts';

/** A complex number: real part, imaginary part. */
export type Complex = readonly [number, number];

/**
 * What is moved: a parameter of an element (the volts of a source), or a net that is driven from outside.
 */
export type Stimulus =
  | { readonly kind: 'parameter'; readonly element: string; readonly name: string }
  | { readonly kind: 'net'; readonly net: string };

/** Frequencies outside which no corner is looked for, in hertz (Hz). */
const lowestHertz = 1e-3;
const highestHertz = 1e9;

/** A gain and where it has fallen by 3 dB; null where it does not within 1 mHz … 1 GHz. */
export interface Passband {
  /** Magnitude at mid frequency. */
  readonly gain: number;
  readonly lowHertz: number | null;
  readonly highHertz: number | null;
}

/**
 * A circuit made linear at its operating point.
 *
 * Make it after a `solve` that converged; it keeps its own copy of the derivatives.
 */
export class SmallSignal {
  readonly #solver: Solver;
  readonly #conductance: Float64Array;
  readonly #storage: Float64Array;
  /** Right-hand sides of parameters asked for before: the operating point does not move. */
  readonly #pushes = new Map<string, Float64Array>();

  constructor(solver: Solver) {
    this.#solver = solver;
    this.#conductance = solver.linearise().derivatives();
    this.#storage = storageMatrix(solver.compiled);
  }

  /**
   * Change of a net's voltage for a unit change of the stimulus: volts per volt for a source or a net.
   *
   * @param hertz Frequency, in hertz (Hz); 0 for a slow change.
   */
  transfer(from: Stimulus, outputNet: string, hertz: number): Complex {
    const { size } = this.#solver;
    const output = this.#index(outputNet);
    if (output >= size) return [0, 0];
    const solved = this.#solve(this.#drive(from), hertz);
    const answer: Complex = [solved[output] ?? 0, solved[size + output] ?? 0];
    if (from.kind === 'parameter') return answer;
    const driven = this.#index(from.net);
    return divide(answer, [solved[driven]!, solved[size + driven]!]);
  }

  /** The same for the voltage between two nets. */
  transferBetween(from: Stimulus, plus: string, minus: string, hertz: number): Complex {
    const [a, b] = [this.transfer(from, plus, hertz), this.transfer(from, minus, hertz)];
    return [a[0] - b[0], a[1] - b[1]];
  }

  /** Impedance of everything between two nets, in ohms (Ω): the output resistance of a stage. */
  impedanceBetween(netA: string, netB: string, hertz: number): Complex {
    const { size } = this.#solver;
    const [a, b] = [this.#index(netA), this.#index(netB)];
    const right = new Float64Array(2 * size);
    if (a < size) right[a] = 1;
    if (b < size) right[b]! -= 1;
    const solved = this.#solve(right, hertz);
    const at = (index: number, part: number): number => (index < size ? solved[part * size + index]! : 0);
    return [at(a, 0) - at(b, 0), at(a, 1) - at(b, 1)];
  }

  /** Admittance of everything between two nets: conductance and susceptance, in siemens (S). */
  admittanceBetween(netA: string, netB: string, hertz: number): Complex {
    return divide([1, 0], this.impedanceBetween(netA, netB, hertz));
  }

  /**
   * Gain at a mid frequency and the −3 dB points on both sides of it.
   *
   * @param midHertz Where the gain is flat, in hertz (Hz).
   * @param against Where the output is measured against; the reference where left out.
   */
  passband(
    from: Stimulus,
    outputNet: string,
    midHertz: number,
    against: string = this.#solver.compiled.circuit.reference,
  ): Passband {
    const magnitude = (hertz: number): number =>
      Math.hypot(...this.transferBetween(from, outputNet, against, hertz));
    const gain = magnitude(midHertz);
    const isFallen = (hertz: number): boolean => magnitude(hertz) < gain * Math.SQRT1_2;
    return {
      gain,
      lowHertz: findCorner(isFallen, midHertz, 1 / 1.5, lowestHertz),
      highHertz: findCorner(isFallen, midHertz, 1.5, highestHertz),
    };
  }

  /**
   * Sensitivities of the voltage between two nets to any parameter, by one adjoint solution.
   *
   * S. W. Director and R. A. Rohrer, "The generalized adjoint network and network sensitivities", IEEE
   * Trans. Circuit Theory 16, 1969. The slow loop (ripple, lamp) is held at its present parameters.
   *
   * @returns dV/dp by element and parameter name, in volts per unit of the parameter.
   */
  sensitivityOf(net: string, against: string): (element: string, parameter: string) => number {
    const { size } = this.#solver;
    const right = new Float64Array(size);
    const [plus, minus] = [this.#index(net), this.#index(against)];
    if (plus < size) right[plus] = 1;
    if (minus < size) right[minus]! -= 1;
    const adjoint = solveTransposed(this.#conductance, size, right);
    return (element, parameter) => {
      const key = `${element} ${parameter}`;
      const push = this.#pushes.get(key) ?? this.#drive({ kind: 'parameter', element, name: parameter });
      this.#pushes.set(key, push);
      let sum = 0;
      for (let row = 0; row < size; row++) sum += adjoint[row]! * push[row]!;
      return sum;
    };
  }

  #index(net: string): number {
    const { compiled, size } = this.#solver;
    if (net === compiled.circuit.reference) return size;
    const index = compiled.netIndex.get(net);
    if (index === undefined) throw new Error(`no net is called ${net}`);
    return index;
  }

  /** Right-hand side of a unit stimulus: minus the change of the residuals. */
  #drive(from: Stimulus): Float64Array {
    const { size } = this.#solver;
    const right = new Float64Array(2 * size);
    if (from.kind === 'net') {
      const index = this.#index(from.net);
      if (index < size) right[index] = 1;
      return right;
    }
    const { device, point, parameters, unknowns, stamp } = this.#solver.evaluateElement(from.element);
    const place = device.parameters.findIndex((parameter) => parameter.name === from.name);
    if (place < 0) throw new Error(`${from.element}: ${device.name} has no parameter ${from.name}`);
    const value = parameters[place]!;
    const step = 1e-5 * Math.max(Math.abs(value), Math.abs(device.parameters[place]!.initial), 1e-12);
    for (const sign of [1, -1]) {
      parameters[place] = value + sign * step;
      stamp.residuals.fill(0);
      stamp.derivatives.fill(0);
      device.evaluate(point, parameters, stamp);
      for (let row = 0; row < unknowns.length; row++) {
        if (unknowns[row]! < size) right[unknowns[row]!]! -= (sign * stamp.residuals[row]!) / (2 * step);
      }
    }
    parameters[place] = value;
    return right;
  }

  #solve(right: Float64Array, hertz: number): Float64Array {
    const susceptance = this.#storage.map((each) => each * 2 * Math.PI * hertz);
    const { size } = this.#solver;
    return solveComplex(this.#conductance, susceptance, size, right) ?? new Float64Array(2 * size);
  }
}

function divide([a, b]: Complex, [c, d]: Complex): Complex {
  const square = c * c + d * d;
  return square > 0 ? [(a * c + b * d) / square, (b * c - a * d) / square] : [0, 0];
}

/** First frequency on one side at which `isFallen` turns true, to 1e-9 of itself. */
function findCorner(
  isFallen: (hertz: number) => boolean,
  midHertz: number,
  factor: number,
  limit: number,
): number | null {
  let inside = midHertz;
  let outside = midHertz * factor;
  while (!isFallen(outside)) {
    inside = outside;
    outside *= factor;
    if (factor < 1 ? outside < limit : outside > limit) return null;
  }
  while (Math.abs(outside / inside - 1) > 1e-9) {
    const middle = Math.sqrt(inside * outside);
    if (isFallen(middle)) outside = middle;
    else inside = middle;
  }
  return Math.sqrt(inside * outside);
}
