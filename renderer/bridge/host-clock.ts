import type { HostEvent } from '../../shared-core/contract/calls.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';

/** The host's clocks as last heard, with this screen's own tick at that moment, in milliseconds (ms). */
export interface Heard {
  readonly stamp: Stamp;
  readonly screenTick: number;
}

/** A heartbeat, as something heard. */
export function heardFrom(event: Extract<HostEvent, { kind: 'heartbeat' }>, screenTick: number): Heard {
  const { at, run, tick } = event;
  return { stamp: { at, run, tick }, screenTick };
}

/**
 * The host's clocks now: what was last heard plus the time that has passed here.
 *
 * @param screenTick This screen's monotonic clock, in milliseconds (ms).
 */
export function hostNow({ stamp, screenTick: then }: Heard, screenTick: number): Stamp {
  const passed = Math.max(0, screenTick - then);
  return {
    run: stamp.run,
    tick: stamp.tick + passed,
    at: new Date(Date.parse(stamp.at) + passed).toISOString(),
  };
}

/** One look at both clocks of the screen, in milliseconds (ms). */
export interface ScreenClocks {
  readonly tick: number;
  readonly wall: number;
}

/** Either clock jumped by more than this between two looks: the computer slept, in milliseconds (ms). */
const sleepMs = 2_000;

/** Whether the computer slept between two looks at the clocks, taken every half second. */
export function sleptBetween(before: ScreenClocks, after: ScreenClocks): boolean {
  return after.wall - before.wall > sleepMs || after.tick - before.tick > sleepMs;
}
