import { iterateNewton, type NewtonOutcome } from '../numerics/newton.ts';
import type { Circuit } from './circuit.ts';
import { Equations, evaluate, gather } from './equations.ts';
import { contextOf } from './refine-context.ts';
import { type CompiledCircuit, type CompiledElement, compileCircuit, unknownName } from './compile.ts';

export interface SolverOptions {
  /** Conductance from every net to the reference, in siemens (S): the same that a reference simulator adds. */
  readonly gminSiemens: number;
  /** Largest last step relative to a voltage or current. */
  readonly relative: number;
  /** Largest last step in volts (V) or amperes (A). */
  readonly absolute: number;
  readonly maxIterations: number;
  /** Rounds of the slow loop (ripple, lamp); 0 takes the parameters as they are. */
  readonly maxRounds: number;
  /** Relative change in the last round that still passes; more is the failure `unsettled`. */
  readonly acceptedChange: number;
}

export const plainSolverOptions: SolverOptions = {
  gminSiemens: 1e-12,
  relative: 1e-9,
  absolute: 1e-9,
  maxIterations: 200,
  maxRounds: 12,
  acceptedChange: 1e-5,
};

/** Change of a device's parameters at which the slow loop has settled. */
const settledChange = 1e-9;

/** Conductances of the fallback, in siemens (S), before the last step to the real one. */
const gminSteps = [1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11];

/** Why there is no operating point. */
export type SolveFailure =
  | { readonly kind: 'singular'; readonly at: string }
  | { readonly kind: 'not-finite'; readonly at: string }
  | { readonly kind: 'no-convergence'; readonly at: string }
  | { readonly kind: 'unsettled'; readonly at: string };

/** How the last `solve` ended; the same object each time. */
export interface SolveOutcome {
  converged: boolean;
  /** Newton iterations, all rounds and fallbacks together. */
  iterations: number;
  /** Rounds of the slow loop. */
  rounds: number;
  method: 'direct' | 'gmin-stepping';
  failure: SolveFailure | null;
}

/**
 * A circuit compiled once and solved many times.
 *
 * Set parameters, `solve`, read voltages. Nothing is allocated by `setParameterAt` and `solve` after the
 * first call (the slow loop and the fallback excepted).
 */
export class Solver {
  readonly compiled: CompiledCircuit;
  readonly options: SolverOptions;
  readonly size: number;
  /** Voltages of the nets, then branch currents, then the reference's 0. */
  readonly unknowns: Float64Array;
  readonly outcome: SolveOutcome = {
    converged: false,
    iterations: 0,
    rounds: 0,
    method: 'direct',
    failure: null,
  };
  readonly equations: Equations;
  #isStarted = false;
  readonly #slow: readonly CompiledElement[];
  readonly #dx: Float64Array;
  readonly #newton: NewtonOutcome = { ended: 'too-many', iterations: 0 };

  constructor(circuit: Circuit | CompiledCircuit, options: Partial<SolverOptions> = {}) {
    this.compiled = 'entryRows' in circuit ? circuit : compileCircuit(circuit);
    this.options = { ...plainSolverOptions, ...options };
    this.equations = new Equations(this.compiled, this.options.gminSiemens);
    this.size = this.compiled.size;
    this.unknowns = new Float64Array(this.size + 1);
    this.#dx = new Float64Array(this.size + 1);
    this.#slow = this.compiled.elements.filter((element) => element.device.refine);
  }

  /** The element of that id; throws where there is none. */
  element(id: string): CompiledElement {
    const index = this.compiled.elementIndex.get(id);
    if (index === undefined) throw new Error(`no element is called ${id}`);
    return this.compiled.elements[index]!;
  }

  /** Sets a parameter by name, in its SI unit. */
  setParameter(elementId: string, name: string, value: number): void {
    const element = this.element(elementId);
    const index = element.device.parameters.findIndex((parameter) => parameter.name === name);
    if (index < 0) throw new Error(`${elementId}: ${element.device.name} has no parameter ${name}`);
    this.setParameterAt(element, index, value);
  }

  /** Sets a parameter by position: the fast way for samples. */
  setParameterAt(element: CompiledElement, index: number, value: number): void {
    if (!Number.isFinite(value)) throw new Error(`${element.id}: a parameter is not a finite number`);
    element.given[index] = value;
    element.parameters[index] = value;
    this.equations.touch(element);
  }

  /**
   * Finds the operating point and leaves it in `unknowns`.
   *
   * @param warm Start from the last solution instead of from nothing.
   * @param enough Relative change in a round of the slow loop after which no other round is worth it: the next
   *   would change a few hundredths of that. 0 goes on until nothing changes.
   * @returns How it ended (the solver's own object, overwritten by the next call).
   */
  solve(warm = false, enough = 0): SolveOutcome {
    const { outcome } = this;
    outcome.iterations = 0;
    outcome.rounds = 0;
    outcome.method = 'direct';
    outcome.failure = null;
    outcome.converged = this.#solveRounds(warm && this.#isStarted, enough);
    this.#isStarted = outcome.converged;
    return outcome;
  }

  /** Voltage of a net against the reference, in volts (V). */
  volts(net: string): number {
    if (net === this.compiled.circuit.reference) return 0;
    const index = this.compiled.netIndex.get(net);
    if (index === undefined) throw new Error(`no net is called ${net}`);
    return this.unknowns[index]!;
  }

  /** Evaluates an element at the solution: currents into its pins, in amperes (A), in `stamp.residuals`. */
  evaluateElement(id: string): CompiledElement {
    const element = this.element(id);
    gather(element, this.unknowns);
    element.point.set(element.wanted);
    evaluate(element);
    return element;
  }

  /**
   * Evaluates all devices at the solution, without limits: `equations.residuals` and
   * `equations.derivatives()` then belong to it.
   */
  linearise(): Equations {
    this.equations.startAt(this.unknowns, true);
    this.equations.assemble(this.unknowns);
    return this.equations;
  }

  #solveRounds(warm: boolean, enough: number): boolean {
    if (!warm) for (const element of this.#slow) this.#resetSlow(element);
    if (!this.#solveOnce(warm)) return false;
    let change = 0;
    let at = '';
    for (let round = 1; round <= this.options.maxRounds && this.#slow.length > 0; round++) {
      this.outcome.rounds = round;
      change = 0;
      for (const element of this.#slow) {
        gather(element, this.unknowns);
        const moved = element.device.refine!(
          element.wanted,
          element.parameters,
          contextOf(this.equations, this.unknowns, element),
        );
        if (!(moved < settledChange)) at = element.id;
        if (!(moved <= change)) change = moved;
        this.equations.touch(element);
      }
      // What moved last still takes a step, or the current law would miss it.
      if (change < settledChange) return change === 0 || this.#solveOnce(true);
      if (!this.#solveOnce(true)) return false;
      if (change < enough) return true;
    }
    if (change < this.options.acceptedChange) return true;
    this.outcome.failure = { kind: 'unsettled', at };
    return false;
  }

  #resetSlow(element: CompiledElement): void {
    element.parameters.set(element.given);
    this.equations.touch(element);
  }

  /** One Newton solution at fixed parameters, with the fallback. */
  #solveOnce(warm: boolean): boolean {
    if (this.#iterate(warm)) return true;
    if (warm && this.#iterate(false)) return true;
    const isHopeless = this.outcome.failure!.kind === 'singular' && this.equations.curved.length === 0;
    if (isHopeless || !this.#stepGmin()) return false;
    this.outcome.method = 'gmin-stepping';
    this.outcome.failure = null;
    return true;
  }

  #stepGmin(): boolean {
    let warm = false;
    for (const gmin of gminSteps) {
      this.equations.setGmin(gmin);
      // A step that fails leaves a bad point: the next one starts afresh.
      warm = this.#iterate(warm);
    }
    this.equations.setGmin(this.options.gminSiemens);
    return this.#iterate(warm);
  }

  #iterate(warm: boolean): boolean {
    if (!warm) this.unknowns.fill(0);
    this.equations.startAt(this.unknowns, warm);
    iterateNewton(this.equations, this.unknowns, this.#dx, this.options, this.#newton);
    const { ended, iterations } = this.#newton;
    this.outcome.iterations += iterations;
    this.outcome.failure = null;
    if (ended === 'converged' || ended === 'stagnated') return true;
    if (ended === 'singular') this.outcome.failure = { kind: 'singular', at: this.equations.singularAt };
    else if (ended === 'not-finite')
      this.outcome.failure = { kind: 'not-finite', at: this.equations.notFiniteAt };
    else this.outcome.failure = { kind: 'no-convergence', at: this.#worst() };
    return false;
  }

  /** The unknown whose last step was largest. */
  #worst(): string {
    let worst = 0;
    for (let index = 0; index < this.size; index++) {
      if (Math.abs(this.#dx[index]!) > Math.abs(this.#dx[worst]!)) worst = index;
    }
    return unknownName(this.compiled, worst);
  }
}
