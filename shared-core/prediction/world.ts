/**
 * One amplifier out of the many that could be built: how far each quantity is from nominal.
 *
 * Keys are quantity names (`R4`, `mains`, `T1.volts`, `V2.current`), values relative deviations:
 * 0.05 is 5 % more than nominal. What is not named is nominal.
 */
export type World = Readonly<Record<string, number>>;

/** The amplifier with every quantity at its nominal value. */
export const nominalWorld: World = {};

/** Reads factors from a world and remembers which quantities were asked for. */
export interface WorldReader {
  /** 1 + deviation of the named quantity. */
  readonly factor: (quantity: string) => number;
  /** Every quantity asked for so far: those that this circuit can depend on. */
  readonly asked: ReadonlySet<string>;
}

/** Opens a world for reading. */
export function readWorld(world: World): WorldReader {
  const asked = new Set<string>();
  return {
    asked,
    factor: (quantity) => {
      asked.add(quantity);
      return 1 + (world[quantity] ?? 0);
    },
  };
}
