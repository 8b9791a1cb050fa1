import type { CompiledCircuit } from './compile.ts';
import type { Solver } from './solver.ts';

/** Voltage of each capacitor when the plug is pulled, plus against minus, in volts (V), by element id. */
export type DrainStart = Readonly<Record<string, number>>;

/** One capacitor after the plug is out. */
export interface StoreDrain {
  /** Id of the capacitor's element. */
  readonly element: string;
  /** Voltage at the start, in volts (V). */
  readonly volts: number;
  /** Energy at the start, ½CV², in joules (J). */
  readonly joules: number;
  /**
   * Time after which the voltage stays at or below the safe one, sign ignored, in seconds (s); 0 where it
   * never was above; null where there is no path or the time asked for did not suffice.
   */
  readonly seconds: number | null;
  /** Voltage at each of the outcome's `seconds`, in volts (V). */
  readonly curve: readonly number[];
}

/** All capacitors after the plug is out. */
export interface DrainOutcome {
  /** Times of the curves, in seconds (s), the first 0, then spread evenly in their logarithm. */
  readonly seconds: readonly number[];
  readonly stores: readonly StoreDrain[];
  /** The capacitor that stays dangerous longest: null time counts as longest. Null where there is none. */
  readonly worst: string | null;
  /** Why the computation stopped early; null when it did not. */
  readonly failure: string | null;
}

/** One capacitor of a circuit. */
export interface Store {
  readonly element: string;
  /** Unknowns of its two ends; `size` stands for the reference. */
  readonly plus: number;
  readonly minus: number;
  readonly farads: number;
}

/** Capacitors of a circuit: the charges of its linear devices. */
export function listStores(compiled: CompiledCircuit): Store[] {
  return compiled.elements
    .filter(({ device }) => device.linear && device.storage)
    .flatMap(({ id, device, unknowns, parameters }) =>
      device.storage!(parameters).flatMap((store) =>
        store.kind === 'charge'
          ? [
              {
                element: id,
                plus: unknowns[store.plus]!,
                minus: unknowns[store.minus]!,
                farads: store.farads,
              },
            ]
          : [],
      ),
    );
}

/** Voltages of all capacitors at the solution of a solver: where a drain begins. */
export function readStores(solver: Solver): DrainStart {
  const { unknowns, compiled } = solver;
  return Object.fromEntries(
    listStores(compiled).map(({ element, plus, minus }) => [element, unknowns[plus]! - unknowns[minus]!]),
  );
}

/** The store with the longest time. */
export function findWorst(stores: readonly StoreDrain[]): string | null {
  let worst: StoreDrain | null = null;
  for (const store of stores) {
    if (!worst || (store.seconds ?? Infinity) > (worst.seconds ?? Infinity)) worst = store;
  }
  return worst?.element ?? null;
}

/** Times for a curve: 0, then `count` of them evenly spread in their logarithm. */
export function spreadTimes(firstSeconds: number, lastSeconds: number, count: number): number[] {
  const ratio = Math.log(lastSeconds / firstSeconds) / (count - 1);
  return [0, ...Array.from({ length: count }, (_, index) => firstSeconds * Math.exp(ratio * index))];
}
