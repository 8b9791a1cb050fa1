import type { CompiledCircuit, CompiledElement } from './compile.ts';

/**
 * The matrix that multiplies the rates of change of the unknowns: capacitances and (negative) inductances.
 *
 * `G x + C dx/dt = sources`, row-major `size × size`, farads (F) in the rows of nets, henries (H) in
 * the rows of branches.
 */
export function storageMatrix(
  compiled: CompiledCircuit,
  isIncluded: (element: CompiledElement) => boolean = () => true,
): Float64Array {
  const { size } = compiled;
  const matrix = new Float64Array(size * size);
  const add = (row: number, column: number, value: number): void => {
    if (row < size && column < size) matrix[row * size + column]! += value;
  };
  for (const element of compiled.elements) {
    if (!element.device.storage || !isIncluded(element)) continue;
    for (const store of element.device.storage(element.parameters)) {
      if (store.kind === 'charge') {
        const [plus, minus] = [element.unknowns[store.plus]!, element.unknowns[store.minus]!];
        add(plus, plus, store.farads);
        add(minus, minus, store.farads);
        add(plus, minus, -store.farads);
        add(minus, plus, -store.farads);
      } else {
        const branch = element.unknowns[element.device.pins.length + store.branch]!;
        add(branch, branch, -store.henries);
      }
    }
  }
  return matrix;
}
