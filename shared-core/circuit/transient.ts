import { factorise, solveFactorised } from '../numerics/dense.ts';
import { iterateNewton, type NewtonOutcome, type NewtonProblem } from '../numerics/newton.ts';
import type { CompiledCircuit } from './compile.ts';
import { Equations } from './equations.ts';
import { storageMatrix } from './storage.ts';

/** The point between the two stages of a step: 2 − √2 makes both use the same matrix. */
const gamma = 2 - Math.SQRT2;
/** Error constant of the method (R. E. Bank et al., IEEE Trans. Electron Devices 32, 1985, equation 6.9). */
const errorConstant = (-3 * gamma * gamma + 4 * gamma - 2) / (12 * (2 - gamma));

const newtonOptions = { maxIterations: 60, relative: 1e-9, absolute: 1e-9 };

/**
 * A circuit advanced in time by TR-BDF2, an implicit method that damps what is fast.
 *
 * `d(C x)/dt + f(x) = 0`, C constant. R. E. Bank, W. M. Coughran, W. Fichtner, E. H. Grosse, D. J. Rose and
 * R. K. Smith, "Transient simulation of silicon devices and circuits", IEEE Trans. Electron Devices 32,
 * 1985. The error is of third order in the step; it is filtered through the step's own matrix.
 */
export class Transient implements NewtonProblem {
  readonly equations: Equations;
  readonly size: number;
  /** Unknowns at the present time, the reference's 0 last. */
  readonly x: Float64Array;
  /** Estimated error of the last trial step, in the units of the unknowns. */
  readonly error: Float64Array;
  readonly #storage: Float64Array;
  readonly #trial: Float64Array;
  readonly #dx: Float64Array;
  readonly #newton: NewtonOutcome = { ended: 'too-many', iterations: 0 };
  readonly #order: Int32Array;
  readonly #scale: Float64Array;
  readonly #right: Float64Array;
  /** What the stored quantities are to be: `C x = #target − #weight·f(x)`. */
  readonly #target: Float64Array;
  #weight = 0;
  #matrix: Float64Array = new Float64Array(0);
  #stored: Float64Array;
  #flow: Float64Array;

  constructor(compiled: CompiledCircuit, gminSiemens: number) {
    this.equations = new Equations(compiled, gminSiemens);
    this.size = compiled.size;
    this.#storage = storageMatrix(compiled);
    const make = (): Float64Array => new Float64Array(compiled.size + 1);
    [this.x, this.error, this.#trial, this.#dx] = [make(), make(), make(), make()];
    [this.#right, this.#target, this.#stored, this.#flow] = [make(), make(), make(), make()];
    this.#order = new Int32Array(compiled.size);
    this.#scale = new Float64Array(compiled.size);
  }

  /**
   * Finds unknowns that fit the stored charges, by one backward step so short that nothing moves.
   *
   * @param stored C x at the start: charges in coulombs (C), fluxes with opposite sign in volt seconds.
   */
  begin(stored: Float64Array, seconds: number): boolean {
    this.#target.set(stored);
    this.#weight = seconds;
    this.x.fill(0);
    this.#trial.fill(0);
    this.equations.startAt(this.#trial, false);
    if (!this.#settle()) return false;
    this.accept();
    return true;
  }

  /** Tries one step of that length; the result waits in the trial until `accept`. */
  tryStep(seconds: number): boolean {
    const { size } = this;
    const h = seconds;
    this.#weight = (gamma * h) / 2;
    this.#trial.set(this.x);
    for (let row = 0; row < size; row++)
      this.#target[row] = this.#stored[row]! - this.#weight * this.#flow[row]!;
    this.equations.startAt(this.#trial, true);
    if (!this.#settle()) return false;
    const middleFlow = Float64Array.from(this.equations.residuals);
    const middle = this.#multiply(this.#trial);
    const share = 1 / (gamma * (2 - gamma));
    for (let row = 0; row < size; row++) {
      this.#target[row] = share * middle[row]! - share * (1 - gamma) ** 2 * this.#stored[row]!;
    }
    this.#weight = ((1 - gamma) / (2 - gamma)) * h;
    this.equations.startAt(this.#trial, true);
    if (!this.#settle()) return false;
    for (let row = 0; row < size; row++) {
      this.#right[row] =
        2 *
        errorConstant *
        h *
        (this.#flow[row]! / gamma -
          middleFlow[row]! / (gamma * (1 - gamma)) +
          this.equations.residuals[row]! / (1 - gamma));
    }
    solveFactorised(this.#matrix, size, this.#order, this.#right, this.error);
    return true;
  }

  /** Makes the trial the present state. */
  accept(): void {
    this.x.set(this.#trial);
    this.equations.startAt(this.x, true);
    this.equations.assemble(this.x);
    this.#flow = Float64Array.from(this.equations.residuals);
    this.#stored = this.#multiply(this.x);
  }

  /** Voltage between two unknowns of the trial, in volts (V). */
  trialVolts(plus: number, minus: number): number {
    return this.#trial[plus]! - this.#trial[minus]!;
  }

  assemble(x: Float64Array): 'free' | 'held' | 'not-finite' {
    return this.equations.assemble(x);
  }

  step(into: Float64Array): boolean {
    const { size } = this;
    const matrix = this.equations.derivatives();
    const stored = this.#multiply(this.#trial);
    for (let place = 0; place < matrix.length; place++) {
      matrix[place] = this.#weight * matrix[place]! + this.#storage[place]!;
    }
    for (let row = 0; row < size; row++) {
      this.#right[row] = this.#target[row]! - stored[row]! - this.#weight * this.equations.residuals[row]!;
    }
    this.#matrix = matrix;
    if (factorise(matrix, size, this.#order, this.#scale) >= 0) return false;
    solveFactorised(matrix, size, this.#order, this.#right, into);
    return true;
  }

  /** Newton on the trial; the equations are left evaluated at its end. */
  #settle(): boolean {
    iterateNewton(this, this.#trial, this.#dx, newtonOptions, this.#newton);
    if (this.#newton.ended !== 'converged' && this.#newton.ended !== 'stagnated') return false;
    this.equations.startAt(this.#trial, true);
    return this.equations.assemble(this.#trial) !== 'not-finite';
  }

  #multiply(x: Float64Array): Float64Array {
    const { size } = this;
    const out = new Float64Array(size + 1);
    for (let row = 0; row < size; row++) {
      let sum = 0;
      for (let column = 0; column < size; column++) {
        const entry = this.#storage[row * size + column]!;
        if (entry !== 0) sum += entry * x[column]!;
      }
      out[row] = sum;
    }
    return out;
  }
}
