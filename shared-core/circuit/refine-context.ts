import { solveComplex } from '../numerics/complex-matrix.ts';
import type { CompiledElement } from './compile.ts';
import type { RefineContext } from './device.ts';
import { type Equations, evaluate, gather } from './equations.ts';
import { storageMatrix } from './storage.ts';

/** What the slow loop of one element may ask about the rest of the solved circuit. */
export function contextOf(
  equations: Equations,
  solution: Float64Array,
  element: CompiledElement,
): RefineContext {
  // The rest is the same at every frequency, and nothing in it moves while one element is refined.
  let rest: Rest | undefined;
  return {
    admittanceAround: (plus, minus, hertz) => {
      rest ??= restOf(equations, solution, element);
      return admittanceAround(rest, element, plus, minus, hertz);
    },
  };
}

/** Everything but one element: its conductances, in siemens (S), and what it stores, dense and row by row. */
interface Rest {
  readonly size: number;
  readonly conductance: Float64Array;
  readonly storage: Float64Array;
}

function restOf(equations: Equations, solution: Float64Array, element: CompiledElement): Rest {
  const { size, compiled } = equations;
  equations.startAt(solution, true);
  equations.assemble(solution);
  const conductance = equations.derivatives();
  gather(element, solution);
  element.point.set(element.wanted);
  evaluate(element);
  removeElement(conductance, size, element, compiled.nets.length);
  return { size, conductance, storage: storageMatrix(compiled, (other) => other !== element) };
}

/** Admittance of the rest between two pins of the element: conductance and susceptance, in siemens (S). */
function admittanceAround(
  { size, conductance, storage }: Rest,
  element: CompiledElement,
  plus: number,
  minus: number,
  hertz: number,
): readonly [number, number] {
  const turn = 2 * Math.PI * hertz;
  const susceptance = storage.map((each) => each * turn);
  const right = new Float64Array(2 * size);
  const [from, to] = [element.unknowns[plus]!, element.unknowns[minus]!];
  if (from < size) right[from] = 1;
  if (to < size) right[to]! -= 1;
  const solved = solveComplex(conductance, susceptance, size, right);
  if (!solved) return [0, 0];
  const at = (unknown: number, part: number): number => (unknown < size ? solved[part * size + unknown]! : 0);
  const real = at(from, 0) - at(to, 0);
  const imaginary = at(from, 1) - at(to, 1);
  const square = real * real + imaginary * imaginary;
  return square > 0 ? [real / square, -imaginary / square] : [0, 0];
}

function removeElement(matrix: Float64Array, size: number, element: CompiledElement, nets: number): void {
  const { unknowns, stamp } = element;
  const count = unknowns.length;
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      const [r, c] = [unknowns[row]!, unknowns[column]!];
      if (r < size && c < size) matrix[r * size + c]! -= stamp.derivatives[row * count + column]!;
    }
    // A branch without its law would leave an empty row: pin its current to zero.
    if (unknowns[row]! >= nets && unknowns[row]! < size) matrix[unknowns[row]! * size + unknowns[row]!] = 1;
  }
}
