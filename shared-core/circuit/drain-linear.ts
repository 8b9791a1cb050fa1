import { factorise, solveFactorised } from '../numerics/dense.ts';
import { solveSymmetricEigen } from '../numerics/symmetric-eigen.ts';
import type { Circuit } from './circuit.ts';
import { type CompiledCircuit, compileCircuit } from './compile.ts';
import {
  type DrainOutcome,
  type DrainStart,
  findWorst,
  listStores,
  spreadTimes,
  type Store,
  type StoreDrain,
} from './drain.ts';

/** Longer than this is no discharge path at all, in seconds (s): open contacts and insulation, not bleeders. */
const noPathSeconds = 1e6;

/** Resistance that parts capacitors which stand in one loop, in ohms (Ω): only where they do. */
const loopOhms = 1e-3;

const curvePoints = 120;
/** Times at which the last crossing is looked for before it is refined. */
const scanPoints = 600;

export interface LinearDrainOptions {
  /** In volts (V). */
  readonly safeVolts: number;
  /** End of the curves, in seconds (s); by default 1.3 times the worst store's time, at least 10 s. */
  readonly untilSeconds?: number;
}

/**
 * Drain of a circuit of resistors and capacitors: an exact sum of exponentials.
 *
 * Capacitors are ports of the resistive rest: `C v' = −Y v`, made symmetric by √C and solved by
 * eigenvalues. Chokes count as their copper; devices that are not linear (cold valves, diodes) count as
 * open, which is the slow side. Leave sources out: a source counts as switched off, a voltage source as a
 * short. For hot valves see `drainNonlinear`.
 *
 * @param start Voltages at the start; capacitors that are not named start empty.
 */
export function drainLinear(circuit: Circuit, start: DrainStart, options: LinearDrainOptions): DrainOutcome {
  const compiled = compileCircuit(circuit);
  const stores = listStores(compiled).filter((store) => store.plus !== store.minus);
  if (stores.length === 0) return { seconds: [], stores: [], worst: null, failure: null };
  const ports = mergeParallel(stores);
  const modes = findModes(compiled, ports, start);
  if (!modes) return { seconds: [], stores: [], worst: null, failure: 'singular network' };
  const amplitudes = stores.map((store) => modes.amplitudesOf(store));
  const times = amplitudes.map((each) => lastTimeAbove(each, modes.rates, options.safeVolts));
  const longest = Math.max(10, ...times.map((time) => 1.3 * (time ?? 0)));
  const seconds = spreadTimes(longest / 1e4, options.untilSeconds ?? longest, curvePoints);
  const drained = stores.map((store, index): StoreDrain => {
    const volts = start[store.element] ?? 0;
    return {
      element: store.element,
      volts,
      joules: (store.farads * volts * volts) / 2,
      seconds: times[index]!,
      curve: seconds.map((time) => sumOf(amplitudes[index]!, modes.rates, time)),
    };
  });
  return { seconds, stores: drained, worst: findWorst(drained), failure: null };
}

interface Port {
  readonly plus: number;
  readonly minus: number;
  farads: number;
  /** Sum of charges at the start, in coulombs (C). */
  members: { readonly store: Store; readonly sign: 1 | -1 }[];
}

/** Capacitors between the same two nets become one port, whichever way round they sit. */
function mergeParallel(stores: readonly Store[]): Port[] {
  const ports: Port[] = [];
  for (const store of stores) {
    const same = ports.find((port) => port.plus === store.plus && port.minus === store.minus);
    const turned = ports.find((port) => port.plus === store.minus && port.minus === store.plus);
    const port = same ?? turned;
    if (!port) {
      ports.push({
        plus: store.plus,
        minus: store.minus,
        farads: store.farads,
        members: [{ store, sign: 1 }],
      });
    } else {
      port.farads += store.farads;
      port.members.push({ store, sign: same ? 1 : -1 });
    }
  }
  return ports;
}

interface Modes {
  /** In 1/s. */
  readonly rates: Float64Array;
  /** Share of each mode in a store's voltage, in volts (V). */
  readonly amplitudesOf: (store: Store) => Float64Array;
}

function findModes(compiled: CompiledCircuit, ports: readonly Port[], start: DrainStart): Modes | null {
  const count = ports.length;
  const admittance = portAdmittance(compiled, ports, 0) ?? portAdmittance(compiled, ports, loopOhms);
  if (!admittance) return null;
  const roots = ports.map((port) => Math.sqrt(port.farads));
  const matrix = new Float64Array(count * count);
  for (let row = 0; row < count; row++) {
    for (let column = 0; column < count; column++) {
      const mean = (admittance[row * count + column]! + admittance[column * count + row]!) / 2;
      matrix[row * count + column] = mean / (roots[row]! * roots[column]!);
    }
  }
  const { values, vectors } = solveSymmetricEigen(matrix, count);
  // Parallel capacitors share their charge at once: the port starts at total charge over total capacitance.
  const initial = ports.map((port) =>
    port.members.reduce((sum, { store, sign }) => sum + sign * store.farads * (start[store.element] ?? 0), 0),
  );
  const weights = Float64Array.from({ length: count }, (_, mode) => {
    let sum = 0;
    for (let row = 0; row < count; row++) sum += (vectors[row * count + mode]! * initial[row]!) / roots[row]!;
    return sum;
  });
  return {
    rates: values,
    amplitudesOf: (store) => {
      const row = ports.findIndex((port) => port.members.some((member) => member.store === store));
      const { sign } = ports[row]!.members.find((member) => member.store === store)!;
      return weights.map((weight, mode) => (sign * weight * vectors[row * count + mode]!) / roots[row]!);
    },
  };
}

/**
 * Admittance matrix of the resistive rest as seen from the ports, in siemens (S); null where singular.
 *
 * Each port is driven by an ideal voltage source of 1 V in turn.
 */
function portAdmittance(
  compiled: CompiledCircuit,
  ports: readonly Port[],
  seriesOhms: number,
): Float64Array | null {
  const count = ports.length;
  const whole = compiled.size + count;
  const matrix = new Float64Array(whole * whole);
  stampResistive(compiled, matrix, whole);
  tieIslands(compiled, ports, matrix, whole);
  ports.forEach((port, index) => {
    const row = compiled.size + index;
    for (const [net, sign] of [
      [port.plus, 1],
      [port.minus, -1],
    ] as const) {
      if (net >= compiled.size) continue;
      matrix[row * whole + net] = sign;
      matrix[net * whole + row] = sign;
    }
    matrix[row * whole + row] = -seriesOhms;
  });
  const order = new Int32Array(whole);
  if (factorise(matrix, whole, order, new Float64Array(whole)) >= 0) return null;
  const admittance = new Float64Array(count * count);
  const right = new Float64Array(whole);
  const solved = new Float64Array(whole);
  for (let column = 0; column < count; column++) {
    right.fill(0);
    right[compiled.size + column] = 1;
    solveFactorised(matrix, whole, order, right, solved);
    // The unknown is the current out of the net into the source: what the rest takes up is its opposite.
    for (let row = 0; row < count; row++) admittance[row * count + column] = -solved[compiled.size + row]!;
  }
  return admittance;
}

function stampResistive(compiled: CompiledCircuit, matrix: Float64Array, whole: number): void {
  for (const { device, unknowns, parameters, stamp, point } of compiled.elements) {
    const count = unknowns.length;
    stamp.residuals.fill(0);
    stamp.derivatives.fill(0);
    if (device.linear) device.evaluate(point, parameters, stamp);
    for (let row = 0; row < count; row++) {
      for (let column = 0; column < count; column++) {
        const [r, c] = [unknowns[row]!, unknowns[column]!];
        if (r < compiled.size && c < compiled.size) {
          matrix[r * whole + c]! += stamp.derivatives[row * count + column]!;
        }
      }
      // A branch of a device that counts as open carries nothing.
      if (!device.linear && row >= device.pins.length) matrix[unknowns[row]! * (whole + 1)] = 1;
    }
  }
}

/**
 * Ties one net of each island to the reference by 1 S.
 *
 * An island is joined to the rest by nothing, so no current flows in the tie and nothing else changes.
 */
function tieIslands(
  compiled: CompiledCircuit,
  ports: readonly Port[],
  matrix: Float64Array,
  whole: number,
): void {
  const { size, nets } = compiled;
  const isReached = new Uint8Array(size + 1);
  const touchesReference = compiled.elements.filter(({ unknowns }) => unknowns.includes(size));
  const joined = (row: number, column: number): boolean =>
    matrix[row * whole + column] !== 0 || matrix[column * whole + row] !== 0;
  const spread = (from: number): void => {
    const waiting = [from];
    while (waiting.length > 0) {
      const at = waiting.pop()!;
      if (isReached[at]) continue;
      isReached[at] = 1;
      for (let other = 0; other < size; other++) if (joined(at, other)) waiting.push(other);
      for (const { plus, minus } of ports) {
        if (plus === at && minus < size) waiting.push(minus);
        if (minus === at && plus < size) waiting.push(plus);
      }
    }
  };
  for (const { device, unknowns, stamp } of touchesReference) {
    if (!device.linear) continue;
    const count = unknowns.length;
    for (let row = 0; row < count; row++) {
      for (let column = 0; column < count; column++) {
        if (unknowns[column] !== size || unknowns[row] === size) continue;
        const isJoined = stamp.derivatives[row * count + column] || stamp.derivatives[column * count + row];
        if (isJoined) spread(unknowns[row]!);
      }
    }
  }
  for (const { plus, minus } of ports) {
    if (plus === size) spread(minus);
    if (minus === size) spread(plus);
  }
  for (let net = 0; net < nets.length; net++) {
    if (isReached[net]) continue;
    matrix[net * whole + net]! += 1;
    spread(net);
  }
}

function sumOf(amplitudes: Float64Array, rates: Float64Array, time: number): number {
  let sum = 0;
  for (let mode = 0; mode < rates.length; mode++) {
    sum += amplitudes[mode]! * Math.exp(-Math.max(0, rates[mode]!) * time);
  }
  return sum;
}

/** Last time at which the sum of exponentials is above the limit, sign ignored; null beyond any real path. */
function lastTimeAbove(amplitudes: Float64Array, rates: Float64Array, limit: number): number | null {
  const size = (time: number): number => Math.abs(sumOf(amplitudes, rates, time));
  const sizes = amplitudes.map(Math.abs);
  // The sum of the sizes only falls: after it has passed the limit nothing can rise above it again.
  if (sumOf(sizes, rates, noPathSeconds) > limit && size(noPathSeconds) > limit) return null;
  const bound = bisect((time) => sumOf(sizes, rates, time) > limit, 0, noPathSeconds);
  const times = [0, ...spreadTimes(Math.max(bound, 1e-9) * 1e-9, bound, scanPoints)];
  for (let index = times.length - 1; index >= 0; index--) {
    if (size(times[index]!) > limit) {
      return bisect((time) => size(time) > limit, times[index]!, times[index + 1] ?? bound);
    }
  }
  return 0;
}

/** The end of the stretch on which `isAbove` holds, to the last bit. */
function bisect(isAbove: (time: number) => boolean, from: number, to: number): number {
  let [low, high] = [from, to];
  if (!isAbove(low)) return low;
  for (let round = 0; round < 200; round++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (isAbove(middle)) low = middle;
    else high = middle;
  }
  return high;
}
