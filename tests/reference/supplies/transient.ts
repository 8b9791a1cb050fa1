import type { Simulator } from '../../helpers/simulator.ts';

/**
 * The settings at which a transient is trusted.
 *
 * At the simulator's own defaults it is off by up to 4e-4.
 */
export const tightOptions =
  '.options reltol=1e-6 vntol=1e-8 abstol=1e-14 itl1=300 itl4=100 gmin=1e-12 temp=27 tnom=27';

/** Columns of one run by variable name, in lower case. */
export type Columns = ReadonlyMap<string, readonly number[]>;

/**
 * Runs a transient.
 *
 * @param expected Variables that must be there, with finite values: a mistyped netlist gives none.
 */
export async function runTransient(
  simulator: Simulator,
  netlist: string,
  expected: readonly string[],
): Promise<Columns> {
  const { errors, names, columns } = await simulator.run(netlist);
  if (errors.length > 0) throw new Error(`the simulator complains: ${errors.join('; ')}`);
  const result = new Map<string, readonly number[]>();
  names.forEach((name, index) => {
    const values = columns[index]!.filter((value) => typeof value === 'number');
    result.set(name.toLowerCase(), values);
  });
  for (const name of expected) {
    const values = result.get(name) ?? [];
    if (values.length === 0 || values.some((value) => !Number.isFinite(value))) {
      throw new Error(`the simulator gives no finite ${name}; it gives ${names.join(', ')}`);
    }
  }
  return result;
}

/** Mean of a sampled curve between two times by the trapezoid rule, over the samples' own steps. */
export function meanBetween(
  times: readonly number[],
  values: readonly number[],
  from: number,
  to: number,
): number {
  let area = 0;
  for (let index = 1; index < times.length; index++) {
    const [start, end] = [Math.max(from, times[index - 1]!), Math.min(to, times[index]!)];
    if (end <= start) continue;
    area += ((end - start) * (valueAt(times, values, index, start) + valueAt(times, values, index, end))) / 2;
  }
  return area / (to - from);
}

/** Value at a time between sample `index − 1` and sample `index`. */
function valueAt(times: readonly number[], values: readonly number[], index: number, time: number): number {
  const [t0, t1] = [times[index - 1]!, times[index]!];
  const share = t1 > t0 ? (time - t0) / (t1 - t0) : 1;
  return values[index - 1]! + share * (values[index]! - values[index - 1]!);
}
