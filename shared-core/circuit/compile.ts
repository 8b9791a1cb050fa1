import type { Circuit, CircuitElement } from './circuit.ts';
import type { Device, LocalStamp } from './device.ts';

/** One element with its places in the system of equations. */
export interface CompiledElement {
  readonly id: string;
  readonly device: Device;
  readonly nets: readonly string[];
  /** Row and column of each local unknown; `size` stands for the reference. */
  readonly unknowns: Int32Array;
  /** Slot of each local derivative; `entries` stands for "not kept" (reference, or always zero). */
  readonly slots: Int32Array;
  /** What was asked for. */
  readonly given: Float64Array;
  /** What the law sees: `given`, as changed by the slow loop. */
  readonly parameters: Float64Array;
  /** The point at which the law was last evaluated. */
  readonly point: Float64Array;
  /** The point the unknowns stand at. */
  readonly wanted: Float64Array;
  /** Scratch for `limitStep`. */
  readonly next: Float64Array;
  readonly stamp: LocalStamp;
}

/**
 * A circuit turned into indices: what the solver works on.
 *
 * It holds the parameters too: solvers made from the same compiled circuit share them, and one does not
 * notice what is set through another.
 */
export interface CompiledCircuit {
  readonly circuit: Circuit;
  /** Nets without the reference, in order of appearance: the first unknowns. */
  readonly nets: readonly string[];
  readonly netIndex: ReadonlyMap<string, number>;
  /** Names of the branch unknowns that follow the nets, `<element>.<branch>`. */
  readonly branches: readonly string[];
  /** Unknowns: nets and branches. */
  readonly size: number;
  readonly elements: readonly CompiledElement[];
  readonly elementIndex: ReadonlyMap<string, number>;
  /** Row and column of each entry of the matrix that can differ from zero. */
  readonly entryRows: Int32Array;
  readonly entryColumns: Int32Array;
  readonly entries: number;
  /** Entry of each net's own diagonal. */
  readonly diagonals: Int32Array;
}

/**
 * Turns a circuit into indices.
 *
 * Throws on what only a mistake in our own code can cause: a duplicate id, a wrong number of nets, an
 * unknown parameter name, a parameter that is not finite.
 */
export function compileCircuit(circuit: Circuit): CompiledCircuit {
  const netIndex = new Map<string, number>();
  for (const element of circuit.elements) {
    for (const net of element.nets) {
      if (net !== circuit.reference && !netIndex.has(net)) netIndex.set(net, netIndex.size);
    }
  }
  const branches: string[] = [];
  for (const { id, device } of circuit.elements) {
    for (const branch of device.branches ?? []) branches.push(`${id}.${branch}`);
  }
  const size = netIndex.size + branches.length;
  const pattern = new Map<number, number>();
  for (let net = 0; net < netIndex.size; net++) pattern.set(net * size + net, net);
  const elementIndex = new Map<string, number>();
  const elements: CompiledElement[] = [];
  let nextBranch = netIndex.size;
  for (const element of circuit.elements) {
    if (elementIndex.has(element.id)) throw new Error(`two elements are called ${element.id}`);
    elementIndex.set(element.id, elements.length);
    elements.push(compileElement(element, circuit.reference, netIndex, nextBranch, size, pattern));
    nextBranch += element.device.branches?.length ?? 0;
  }
  const keys = [...pattern.keys()];
  for (const { slots } of elements) {
    for (let place = 0; place < slots.length; place++) if (slots[place]! < 0) slots[place] = keys.length;
  }
  return {
    circuit,
    nets: [...netIndex.keys()],
    netIndex,
    branches,
    size,
    elements,
    elementIndex,
    entryRows: Int32Array.from(keys, (key) => Math.floor(key / size)),
    entryColumns: Int32Array.from(keys, (key) => key % size),
    entries: keys.length,
    diagonals: Int32Array.from({ length: netIndex.size }, (_, net) => net),
  };
}

/** Name of an unknown: a net, or `<element>.<branch>`. */
export function unknownName(compiled: CompiledCircuit, index: number): string {
  const { nets, branches } = compiled;
  return nets[index] ?? branches[index - nets.length] ?? '';
}

function compileElement(
  element: CircuitElement,
  reference: string,
  netIndex: ReadonlyMap<string, number>,
  firstBranch: number,
  size: number,
  pattern: Map<number, number>,
): CompiledElement {
  const { id, device, nets } = element;
  if (nets.length !== device.pins.length) {
    throw new Error(
      `${id}: ${device.name} has ${device.pins.length} pins but ${nets.length} nets were given`,
    );
  }
  const count = device.pins.length + (device.branches?.length ?? 0);
  const unknowns = Int32Array.from({ length: count }, (_, local) =>
    local < nets.length
      ? nets[local] === reference
        ? size
        : netIndex.get(nets[local]!)!
      : firstBranch + local - nets.length,
  );
  const given = readParameters(element);
  const stamp = { residuals: new Float64Array(count), derivatives: new Float64Array(count * count) };
  const used = usedDerivatives(device, given, count, stamp);
  const slots = new Int32Array(count * count).fill(-1);
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      const [r, c] = [unknowns[row]!, unknowns[column]!];
      if (r === size || c === size || !used[row * count + column]) continue;
      const key = r * size + c;
      if (!pattern.has(key)) pattern.set(key, pattern.size);
      slots[row * count + column] = pattern.get(key)!;
    }
  }
  return {
    ...{ id, device, nets, unknowns, slots, given, stamp },
    parameters: Float64Array.from(given),
    point: new Float64Array(count),
    wanted: new Float64Array(count),
    next: new Float64Array(count),
  };
}

function readParameters(element: CircuitElement): Float64Array {
  const { id, device, parameters } = element;
  for (const name of Object.keys(parameters)) {
    if (!device.parameters.some((parameter) => parameter.name === name)) {
      throw new Error(`${id}: ${device.name} has no parameter ${name}`);
    }
  }
  return Float64Array.from(device.parameters, ({ name, initial }) => {
    const value = parameters[name] ?? initial;
    if (!Number.isFinite(value)) throw new Error(`${id}: ${name} is not a finite number`);
    return value;
  });
}

/**
 * Which derivatives can differ from zero.
 *
 * A linear device is asked at the ends of its ranges, at its initial and at the present parameters; of
 * any other device all are kept.
 */
function usedDerivatives(device: Device, given: Float64Array, count: number, stamp: LocalStamp): Uint8Array {
  const used = new Uint8Array(count * count);
  if (!device.linear) return used.fill(1);
  const zero = new Float64Array(count);
  const sets = [
    given,
    Float64Array.from(device.parameters, (parameter) => parameter.initial),
    Float64Array.from(device.parameters, (parameter) => parameter.range[0]),
    Float64Array.from(device.parameters, (parameter) => parameter.range[1]),
  ];
  for (const parameters of sets) {
    stamp.residuals.fill(0);
    stamp.derivatives.fill(0);
    device.evaluate(zero, parameters, stamp);
    for (let place = 0; place < used.length; place++) if (stamp.derivatives[place] !== 0) used[place] = 1;
  }
  return used;
}
