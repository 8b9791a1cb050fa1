import type { Stamp } from '../../shared-core/safety/stamp.ts';

/**
 * The host's two clocks, read together.
 *
 * A constructor argument, so that tests can give their own: no flag, variable or call sets it.
 */
export interface Clock {
  readonly now: () => Omit<Stamp, 'run'>;
}

/** The machine's clocks: UTC, and one that only runs forward. */
export const systemClock: Clock = {
  now: () => ({ at: new Date().toISOString(), tick: Math.round(performance.now()) }),
};
