import { factorise, solveFactorised } from '../numerics/dense.ts';
import { type EliminationPlan, planElimination, runElimination } from '../numerics/elimination-plan.ts';
import type { NewtonProblem } from '../numerics/newton.ts';
import { type CompiledCircuit, type CompiledElement, unknownName } from './compile.ts';

/**
 * How far an iterate may leave the range that the sources span, as a multiple of it.
 *
 * No net of resistors, valves and semiconductors goes beyond the sum of all sources (A. N. Willson, "The no-gain
 * property for networks containing three-terminal elements", IEEE Trans. Circuits and Systems 22, 1975). A tangent
 * may well do so on its way; one that points to thousands of volts leads nowhere. Over single faults 2 takes
 * fewer iterations than 1.2 and 3.
 */
const confinement = 2;
/** Added on both sides, in volts (V), so that a circuit without sources has some room too. */
const spareVolts = 1;

/**
 * The equations of a compiled circuit: residuals and derivatives of all its devices at one point.
 *
 * Linear devices are stamped once per parameter set. A device that holds a step back is evaluated at the
 * held point and continued along its tangent. After the first call nothing is allocated.
 */
export class Equations implements NewtonProblem {
  readonly compiled: CompiledCircuit;
  readonly size: number;
  /** Where the equations are singular, after a `step` that failed. */
  singularAt = '';
  /** The element that gave no number, after an `assemble` that failed. */
  notFiniteAt = '';
  /** For nets the violation of the current law, in amperes (A); for branches that of their law. */
  readonly residuals: Float64Array;
  /** Elements that are not linear. */
  readonly curved: readonly CompiledElement[];
  #isBaseStale = true;
  /** The next evaluation is the first of a cold start: at the devices' own first guesses. */
  #isAtStart = false;
  #gmin: number;
  #plan: EliminationPlan | null | undefined;
  readonly #linear: readonly CompiledElement[];
  readonly #sources: readonly CompiledElement[];
  /** What nets may be during the iteration, in volts (V). */
  #lowest = -Infinity;
  #highest = Infinity;
  /** Matrix and constant part of the linear devices. */
  readonly #base: Float64Array;
  readonly #baseResiduals: Float64Array;
  readonly #matrix: Float64Array;
  readonly #right: Float64Array;
  #work: Float64Array = new Float64Array(0);
  readonly #dense: Float64Array;
  readonly #order: Int32Array;
  readonly #scale: Float64Array;

  constructor(compiled: CompiledCircuit, gminSiemens: number) {
    this.compiled = compiled;
    const { size, entries, elements } = compiled;
    this.size = size;
    this.#gmin = gminSiemens;
    this.#linear = elements.filter((element) => element.device.linear);
    this.#sources = elements.filter((element) => element.device.drives);
    this.curved = elements.filter((element) => !element.device.linear);
    this.#base = new Float64Array(entries + 1);
    this.#matrix = new Float64Array(entries + 1);
    this.#baseResiduals = new Float64Array(size + 1);
    this.residuals = new Float64Array(size + 1);
    this.#right = new Float64Array(size + 1);
    this.#dense = new Float64Array(size * size);
    this.#order = new Int32Array(size);
    this.#scale = new Float64Array(size);
  }

  /** Tells that the parameters of an element have changed. */
  touch(element: CompiledElement): void {
    if (element.device.linear) this.#isBaseStale = true;
  }

  /** Conductance from every net to the reference, in siemens (S). */
  setGmin(siemens: number): void {
    this.#gmin = siemens;
    this.#isBaseStale = true;
  }

  /** Sets the points of evaluation: at the first guesses of the devices, or at x. */
  startAt(x: Float64Array, warm: boolean): void {
    this.#isAtStart = !warm;
    this.#spanSources();
    for (const element of this.curved) {
      if (warm) {
        gather(element, x);
        element.point.set(element.wanted);
        continue;
      }
      element.point.fill(0);
      const { start = [] } = element.device;
      for (const [pin, against, volts] of typeof start === 'function' ? start(element.parameters) : start) {
        element.point[pin] = element.point[against]! + volts;
      }
    }
  }

  /** Derivatives of the last evaluation as a dense row-major matrix, `size × size`. */
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
    const residuals = this.residuals;
    residuals.set(this.#baseResiduals);
    this.#matrix.set(this.#base);
    for (let entry = 0; entry < entries; entry++) {
      residuals[entryRows[entry]!]! += this.#base[entry]! * x[entryColumns[entry]!]!;
    }
    let state: 'free' | 'held' = 'free';
    for (const element of this.curved) {
      const held = this.#stampCurved(element, x);
      if (held === null) return 'not-finite';
      if (held) state = 'held';
    }
    this.#isAtStart = false;
    return state;
  }

  step(into: Float64Array): boolean {
    const { entries } = this.compiled;
    for (let row = 0; row < this.size; row++) this.#right[row] = -this.residuals[row]!;
    if (this.#plan === undefined) this.#makePlan();
    if (this.#plan) {
      const work = this.#work;
      for (let entry = 0; entry < entries; entry++) work[entry] = this.#matrix[entry]!;
      work.fill(0, entries);
      if (runElimination(this.#plan, work, this.#right, into)) return true;
      for (let row = 0; row < this.size; row++) this.#right[row] = -this.residuals[row]!;
    }
    return this.#stepDense(into);
  }

  confine(x: Float64Array): boolean {
    let hasLeft = false;
    for (let net = 0; net < this.compiled.nets.length; net++) {
      const volts = x[net]!;
      if (volts >= this.#lowest && volts <= this.#highest) continue;
      hasLeft = true;
      x[net] = volts > 0 ? this.#highest : this.#lowest;
    }
    return hasLeft;
  }

  #spanSources(): void {
    let [low, high] = [-spareVolts, spareVolts];
    for (const { device, unknowns, parameters } of this.#sources) {
      const volts = device.drives!(parameters);
      const [first, last] = [unknowns[0]!, unknowns[device.pins.length - 1]!];
      // With one end on the reference the other goes one way only; a floating source may lift either end.
      const lifted = last === this.size ? volts : -volts;
      const isFloating = first !== this.size && last !== this.size;
      if (isFloating || lifted > 0) high += Math.abs(volts);
      if (isFloating || lifted < 0) low -= Math.abs(volts);
    }
    this.#lowest = confinement * low;
    this.#highest = confinement * high;
  }

  #stepDense(into: Float64Array): boolean {
    const { entries, entryRows, entryColumns } = this.compiled;
    this.#dense.fill(0);
    for (let entry = 0; entry < entries; entry++) {
      this.#dense[entryRows[entry]! * this.size + entryColumns[entry]!] = this.#matrix[entry]!;
    }
    const failed = factorise(this.#dense, this.size, this.#order, this.#scale);
    if (failed >= 0) {
      this.singularAt = unknownName(this.compiled, failed);
      return false;
    }
    solveFactorised(this.#dense, this.size, this.#order, this.#right, into);
    return true;
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
        this.notFiniteAt = element.id;
        return null;
      }
      this.residuals[unknowns[row]!]! += residual;
    }
    return isHeld;
  }
}

/** Reads the local unknowns of an element into `wanted`. */
export function gather(element: CompiledElement, x: Float64Array): void {
  const { unknowns, wanted } = element;
  for (let local = 0; local < unknowns.length; local++) wanted[local] = x[unknowns[local]!]!;
}

/** Evaluates the law of an element at its `point`. */
export function evaluate(element: CompiledElement): void {
  const { stamp, device, point, parameters } = element;
  stamp.residuals.fill(0);
  stamp.derivatives.fill(0);
  device.evaluate(point, parameters, stamp);
}
