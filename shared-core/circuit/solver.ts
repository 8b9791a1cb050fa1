import { factorise, solveFactorised } from '../numerics/dense.ts';
import { type EliminationPlan, planElimination, runElimination } from '../numerics/elimination-plan.ts';
import { iterateNewton, type NewtonOutcome, type NewtonProblem } from '../numerics/newton.ts';
import type { Circuit } from './circuit.ts';
import { contextOf } from './refine-context.ts';
import { type CompiledCircuit, type CompiledElement, compileCircuit } from './compile.ts';

export interface SolverOptions {
  /** Conductance from every net to the reference, in siemens (S): the same that a reference simulator adds. */
  readonly gminSiemens: number;
  /** Largest last step relative to a voltage or current. */
  readonly relative: number;
  /** Largest last step in volts (V) or amperes (A). */
  readonly absolute: number;
  readonly maxIterations: number;
  /** Rounds of the slow loop (ripple, lamp). */
  readonly maxRounds: number;
}

export const plainSolverOptions: SolverOptions = {
  gminSiemens: 1e-12,
  relative: 1e-9,
  absolute: 1e-9,
  maxIterations: 200,
  maxRounds: 12,
};

/** Change of a device's parameters at which the slow loop has settled. */
const settledChange = 1e-9;

/** A slow loop that still moves this much after the last round has failed; below it is good enough. */
const unsettledChange = 1e-5;

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
export class Solver implements NewtonProblem {
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
  #isBaseStale = true;
  #isStarted = false;
  /** The next evaluation is the first of a cold start: at the devices' own first guesses. */
  #isAtStart = false;
  #gmin: number;
  #plan: EliminationPlan | null | undefined;
  #notFiniteAt = '';
  #singularAt = '';
  readonly #linear: readonly CompiledElement[];
  readonly #curved: readonly CompiledElement[];
  readonly #slow: readonly CompiledElement[];
  /** Matrix and constant part of the linear devices. */
  readonly #base: Float64Array;
  readonly #baseResiduals: Float64Array;
  readonly #matrix: Float64Array;
  readonly #residuals: Float64Array;
  readonly #right: Float64Array;
  readonly #dx: Float64Array;
  readonly #newton: NewtonOutcome = { ended: 'too-many', iterations: 0 };
  #work: Float64Array = new Float64Array(0);
  readonly #dense: Float64Array;
  readonly #order: Int32Array;
  readonly #scale: Float64Array;

  constructor(circuit: Circuit | CompiledCircuit, options: Partial<SolverOptions> = {}) {
    this.compiled = 'entryRows' in circuit ? circuit : compileCircuit(circuit);
    this.options = { ...plainSolverOptions, ...options };
    const { size, entries, elements } = this.compiled;
    this.size = size;
    this.#gmin = this.options.gminSiemens;
    this.unknowns = new Float64Array(size + 1);
    this.#linear = elements.filter((element) => element.device.linear);
    this.#curved = elements.filter((element) => !element.device.linear);
    this.#slow = elements.filter((element) => element.device.refine);
    this.#base = new Float64Array(entries + 1);
    this.#matrix = new Float64Array(entries + 1);
    this.#baseResiduals = new Float64Array(size + 1);
    this.#residuals = new Float64Array(size + 1);
    this.#right = new Float64Array(size + 1);
    this.#dx = new Float64Array(size + 1);
    this.#dense = new Float64Array(size * size);
    this.#order = new Int32Array(size);
    this.#scale = new Float64Array(size);
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
    if (element.device.linear) this.#isBaseStale = true;
  }

  /**
   * Finds the operating point and leaves it in `unknowns`.
   *
   * @param warm Start from the last solution instead of from nothing.
   * @returns How it ended (the solver's own object, overwritten by the next call).
   */
  solve(warm = false): SolveOutcome {
    const { outcome } = this;
    outcome.iterations = 0;
    outcome.rounds = 0;
    outcome.method = 'direct';
    outcome.failure = null;
    outcome.converged = this.#solveRounds(warm && this.#isStarted);
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
   * Residuals at the solution, without limits: for nets the violation of the current law, in amperes (A).
   * The matrix of `derivatives` then belongs to the same point.
   */
  residuals(): Float64Array {
    this.#startPoints(true);
    this.assemble(this.unknowns);
    return this.#residuals;
  }

  /** Derivatives at the solution as a dense row-major matrix, `size × size`; call `residuals` first. */
  derivatives(): Float64Array {
    const { entries, entryRows, entryColumns } = this.compiled;
    const dense = new Float64Array(this.size * this.size);
    for (let entry = 0; entry < entries; entry++) {
      dense[entryRows[entry]! * this.size + entryColumns[entry]!] = this.#matrix[entry]!;
    }
    return dense;
  }

  assemble(x: Float64Array): 'free' | 'held' | 'not-finite' {
    if (this.#isBaseStale) this.#stampBase();
    const { entries, entryRows, entryColumns } = this.compiled;
    const residuals = this.#residuals;
    residuals.set(this.#baseResiduals);
    this.#matrix.set(this.#base);
    for (let entry = 0; entry < entries; entry++) {
      residuals[entryRows[entry]!]! += this.#base[entry]! * x[entryColumns[entry]!]!;
    }
    let state: 'free' | 'held' = 'free';
    for (const element of this.#curved) {
      const held = this.#stampCurved(element, x);
      if (held === null) return 'not-finite';
      if (held) state = 'held';
    }
    this.#isAtStart = false;
    return state;
  }

  step(into: Float64Array): boolean {
    const { entries } = this.compiled;
    for (let row = 0; row < this.size; row++) this.#right[row] = -this.#residuals[row]!;
    if (this.#plan === undefined) this.#makePlan();
    if (this.#plan) {
      const work = this.#work;
      for (let entry = 0; entry < entries; entry++) work[entry] = this.#matrix[entry]!;
      work.fill(0, entries);
      if (runElimination(this.#plan, work, this.#right, into)) return true;
      for (let row = 0; row < this.size; row++) this.#right[row] = -this.#residuals[row]!;
    }
    return this.#stepDense(into);
  }

  #stepDense(into: Float64Array): boolean {
    const { entries, entryRows, entryColumns } = this.compiled;
    this.#dense.fill(0);
    for (let entry = 0; entry < entries; entry++) {
      this.#dense[entryRows[entry]! * this.size + entryColumns[entry]!] = this.#matrix[entry]!;
    }
    const failed = factorise(this.#dense, this.size, this.#order, this.#scale);
    if (failed >= 0) {
      this.#singularAt = this.unknownName(failed);
      return false;
    }
    solveFactorised(this.#dense, this.size, this.#order, this.#right, into);
    return true;
  }

  /** Name of an unknown: a net, or `<element>.<branch>`. */
  unknownName(index: number): string {
    const { nets, branches } = this.compiled;
    return nets[index] ?? branches[index - nets.length] ?? '';
  }

  #makePlan(): void {
    const { entryRows, entryColumns } = this.compiled;
    this.#plan = planElimination(this.size, entryRows, entryColumns, this.#matrix);
    this.#work = new Float64Array(this.#plan?.slots ?? 0);
  }

  #stampBase(): void {
    const base = this.#base;
    base.fill(0);
    this.#baseResiduals.fill(0);
    for (const entry of this.compiled.diagonals) base[entry] = this.#gmin;
    for (const element of this.#linear) {
      const { slots, stamp, unknowns } = element;
      element.point.fill(0);
      evaluate(element);
      for (let place = 0; place < slots.length; place++) base[slots[place]!]! += stamp.derivatives[place]!;
      for (let row = 0; row < unknowns.length; row++) {
        this.#baseResiduals[unknowns[row]!]! += stamp.residuals[row]!;
      }
    }
    base[this.compiled.entries] = 0;
    this.#isBaseStale = false;
  }

  /** Adds one curved device; true where it was held at another point, null where it is not finite. */
  #stampCurved(element: CompiledElement, x: Float64Array): boolean | null {
    const { unknowns, slots, point, wanted, next, stamp, device, parameters } = element;
    const count = unknowns.length;
    let isHeld = this.#isAtStart;
    gather(element, x);
    if (!this.#isAtStart) {
      if (device.limitStep) {
        next.set(wanted);
        isHeld = device.limitStep(point, next, parameters);
        point.set(next);
      } else point.set(wanted);
    }
    evaluate(element);
    for (let row = 0; row < count; row++) {
      let residual = stamp.residuals[row]!;
      for (let column = 0; column < count; column++) {
        const derivative = stamp.derivatives[row * count + column]!;
        this.#matrix[slots[row * count + column]!]! += derivative;
        if (isHeld) residual += derivative * (wanted[column]! - point[column]!);
      }
      if (!(Math.abs(residual) < Infinity)) {
        this.#notFiniteAt = element.id;
        return null;
      }
      this.#residuals[unknowns[row]!]! += residual;
    }
    return isHeld;
  }

  #startPoints(warm: boolean): void {
    this.#isAtStart = !warm;
    for (const element of this.#curved) {
      if (warm) {
        gather(element, this.unknowns);
        element.point.set(element.wanted);
        continue;
      }
      element.point.fill(0);
      for (const [pin, against, volts] of element.device.start ?? []) {
        element.point[pin] = element.point[against]! + volts;
      }
    }
  }

  #solveRounds(warm: boolean): boolean {
    if (!warm) for (const element of this.#slow) this.#resetSlow(element);
    if (!this.#solveOnce(warm)) return false;
    let change = 0;
    let at = '';
    for (let round = 1; round <= this.options.maxRounds && this.#slow.length > 0; round++) {
      this.outcome.rounds = round;
      change = 0;
      for (const element of this.#slow) {
        gather(element, this.unknowns);
        const moved = element.device.refine!(element.wanted, element.parameters, contextOf(this, element));
        if (!(moved < settledChange)) at = element.id;
        if (!(moved <= change)) change = moved;
        if (element.device.linear) this.#isBaseStale = true;
      }
      if (change < settledChange) return true;
      if (!this.#solveOnce(true)) return false;
    }
    if (change < unsettledChange) return true;
    this.outcome.failure = { kind: 'unsettled', at };
    return false;
  }

  #resetSlow(element: CompiledElement): void {
    element.parameters.set(element.given);
    if (element.device.linear) this.#isBaseStale = true;
  }

  /** One Newton solution at fixed parameters, with the fallback. */
  #solveOnce(warm: boolean): boolean {
    if (this.#iterate(warm)) return true;
    if (warm && this.#iterate(false)) return true;
    const isHopeless = this.outcome.failure!.kind === 'singular' && this.#curved.length === 0;
    if (isHopeless || !this.#stepGmin()) return false;
    this.outcome.method = 'gmin-stepping';
    this.outcome.failure = null;
    return true;
  }

  #stepGmin(): boolean {
    let warm = false;
    for (const gmin of gminSteps) {
      this.#setGmin(gmin);
      // A step that fails leaves a bad point: the next one starts afresh.
      warm = this.#iterate(warm);
    }
    this.#setGmin(this.options.gminSiemens);
    return this.#iterate(warm);
  }

  #setGmin(siemens: number): void {
    this.#gmin = siemens;
    this.#isBaseStale = true;
  }

  #iterate(warm: boolean): boolean {
    if (!warm) this.unknowns.fill(0);
    this.#startPoints(warm);
    iterateNewton(this, this.unknowns, this.#dx, this.options, this.#newton);
    const { ended, iterations } = this.#newton;
    this.outcome.iterations += iterations;
    this.outcome.failure = null;
    if (ended === 'converged' || ended === 'stagnated') return true;
    if (ended === 'singular') this.outcome.failure = { kind: 'singular', at: this.#singularAt };
    else if (ended === 'not-finite') this.outcome.failure = { kind: 'not-finite', at: this.#notFiniteAt };
    else this.outcome.failure = { kind: 'no-convergence', at: this.#worst() };
    return false;
  }

  /** The unknown whose last step was largest. */
  #worst(): string {
    let worst = 0;
    for (let index = 0; index < this.size; index++) {
      if (Math.abs(this.#dx[index]!) > Math.abs(this.#dx[worst]!)) worst = index;
    }
    return this.unknownName(worst);
  }
}

function gather(element: CompiledElement, x: Float64Array): void {
  const { unknowns, wanted } = element;
  for (let local = 0; local < unknowns.length; local++) wanted[local] = x[unknowns[local]!]!;
}

function evaluate(element: CompiledElement): void {
  const { stamp, device, point, parameters } = element;
  stamp.residuals.fill(0);
  stamp.derivatives.fill(0);
  device.evaluate(point, parameters, stamp);
}
