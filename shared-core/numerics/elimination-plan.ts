/** A pivot must reach this part of the largest entry of its column when the order is chosen. */
const pivotThreshold = 1e-3;

/** A multiplier above this means that the fixed order no longer suits the values. */
const largestMultiplier = 1e9;

/**
 * A fixed order of elimination for matrices of one sparsity pattern, as a flat list of indices.
 *
 * Markowitz's rule: among the numerically acceptable pivots the one that causes the least fill comes
 * first (H. M. Markowitz, "The elimination form of the inverse", Management Science 3, 1957). The list
 * holds, for each step, `pivotSlot, pivotRow, pivotColumn, m, r`, the `m` slots and the `m` columns of
 * the rest of the pivot row, then for each of `r` rows below `row, slot` and `m` slots to update.
 */
export interface EliminationPlan {
  readonly size: number;
  /** Slots in use, fill-ins included. */
  readonly slots: number;
  readonly program: Int32Array;
  /** Where each step starts in `program`. */
  readonly starts: Int32Array;
}

interface Work {
  readonly size: number;
  /** Slot of each column, for each row that is still to be eliminated. */
  readonly slotOf: Map<number, number>[];
  readonly values: Float64Array;
  readonly rowDone: Uint8Array;
  readonly columnDone: Uint8Array;
  slots: number;
}

/**
 * Plans the elimination of a sparse matrix from its pattern and one typical set of values.
 *
 * @param rows Row of each slot; each place of the matrix has at most one slot.
 * @param columns Column of each slot.
 * @param values Typical values, at least one for each slot.
 * @returns The plan, or null where these values give no acceptable pivot.
 */
export function planElimination(
  size: number,
  rows: Int32Array,
  columns: Int32Array,
  values: Float64Array,
): EliminationPlan | null {
  const work: Work = {
    size,
    slotOf: Array.from({ length: size }, () => new Map<number, number>()),
    values: new Float64Array(size * size),
    rowDone: new Uint8Array(size),
    columnDone: new Uint8Array(size),
    slots: rows.length,
  };
  for (let slot = 0; slot < rows.length; slot++) {
    work.slotOf[rows[slot]!]!.set(columns[slot]!, slot);
    work.values[rows[slot]! * size + columns[slot]!] = values[slot]!;
  }
  const program: number[] = [];
  const starts = new Int32Array(size);
  for (let step = 0; step < size; step++) {
    const pivot = choosePivot(work);
    if (!pivot) return null;
    starts[step] = program.length;
    recordStep(work, pivot[0], pivot[1], program);
  }
  return { size, slots: work.slots, program: Int32Array.from(program), starts };
}

function choosePivot(work: Work): readonly [number, number] | null {
  const { size, slotOf, values, rowDone, columnDone } = work;
  const largest = new Float64Array(size);
  const columnCount = new Int32Array(size);
  for (let row = 0; row < size; row++) {
    if (rowDone[row]) continue;
    for (const column of slotOf[row]!.keys()) {
      if (columnDone[column]) continue;
      columnCount[column]!++;
      largest[column] = Math.max(largest[column]!, Math.abs(values[row * size + column]!));
    }
  }
  let best: readonly [number, number] | null = null;
  let bestCost = Infinity;
  let bestRatio = 0;
  for (let row = 0; row < size; row++) {
    if (rowDone[row]) continue;
    let rowCount = 0;
    for (const column of slotOf[row]!.keys()) if (!columnDone[column]) rowCount++;
    for (const column of slotOf[row]!.keys()) {
      if (columnDone[column]) continue;
      const ratio = Math.abs(values[row * size + column]!) / largest[column]!;
      if (!(ratio >= pivotThreshold)) continue;
      const cost = (rowCount - 1) * (columnCount[column]! - 1);
      if (cost < bestCost || (cost === bestCost && ratio > bestRatio)) {
        best = [row, column];
        bestCost = cost;
        bestRatio = ratio;
      }
    }
  }
  return best;
}

function recordStep(work: Work, pivotRow: number, pivotColumn: number, program: number[]): void {
  const { size, slotOf, values, rowDone, columnDone } = work;
  rowDone[pivotRow] = 1;
  columnDone[pivotColumn] = 1;
  const rest = [...slotOf[pivotRow]!.keys()].filter((column) => !columnDone[column]);
  const below: number[] = [];
  for (let row = 0; row < size; row++) if (!rowDone[row] && slotOf[row]!.has(pivotColumn)) below.push(row);
  program.push(slotOf[pivotRow]!.get(pivotColumn)!, pivotRow, pivotColumn, rest.length, below.length);
  for (const column of rest) program.push(slotOf[pivotRow]!.get(column)!);
  for (const column of rest) program.push(column);
  const pivot = values[pivotRow * size + pivotColumn]!;
  for (const row of below) {
    const slots = slotOf[row]!;
    program.push(row, slots.get(pivotColumn)!);
    const factor = values[row * size + pivotColumn]! / pivot;
    for (const column of rest) {
      if (!slots.has(column)) slots.set(column, work.slots++);
      program.push(slots.get(column)!);
      values[row * size + column]! -= factor * values[pivotRow * size + column]!;
    }
  }
}

/**
 * Eliminates and solves by a plan, without allocating.
 *
 * @param values One for each slot (fill-ins at 0); destroyed.
 * @param right Right-hand side; destroyed.
 * @param out Receives the solution.
 * @returns False where a pivot is not usable in the planned order: solve densely instead.
 */
export function runElimination(
  plan: EliminationPlan,
  values: Float64Array,
  right: Float64Array,
  out: Float64Array,
): boolean {
  const { program, starts, size } = plan;
  for (let step = 0; step < size; step++) {
    const at = starts[step]!;
    const pivot = values[program[at]!]!;
    if (!(Math.abs(pivot) > 0)) return false;
    const pivotRight = right[program[at + 1]!]!;
    const count = program[at + 3]!;
    const below = program[at + 4]!;
    const sources = at + 5;
    let cursor = sources + 2 * count;
    for (let each = 0; each < below; each++, cursor += 2 + count) {
      const factor = values[program[cursor + 1]!]! / pivot;
      if (factor === 0) continue;
      if (!(Math.abs(factor) < largestMultiplier)) return false;
      for (let place = 0; place < count; place++) {
        values[program[cursor + 2 + place]!]! -= factor * values[program[sources + place]!]!;
      }
      right[program[cursor]!]! -= factor * pivotRight;
    }
  }
  for (let step = size - 1; step >= 0; step--) {
    const at = starts[step]!;
    const count = program[at + 3]!;
    let sum = right[program[at + 1]!]!;
    for (let place = 0; place < count; place++) {
      sum -= values[program[at + 5 + place]!]! * out[program[at + 5 + count + place]!]!;
    }
    out[program[at + 2]!] = sum / values[program[at]!]!;
  }
  return true;
}
