import type { HostEvent } from '../../shared-core/contract/calls.ts';
import { clockDifferenceMs } from '../../shared-core/safety/limits.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { BuildShelf } from './build-shelf.ts';

/** Time between two heartbeats, in milliseconds (ms). */
export const beatMs = 500;

/**
 * The heartbeat: tells every screen that the host lives, and notices when it did not.
 *
 * A machine that slept, a program that was stopped, a clock that was set: the two clocks then differ, or both
 * ran on without a beat. Every open build gets an entry about it, which ends what was proven (rule 13).
 */
export class Heart {
  private before: Stamp;
  private readonly stamp: () => Stamp;
  private readonly shelf: BuildShelf;
  private readonly tell: (event: HostEvent) => void;

  constructor(stamp: () => Stamp, shelf: BuildShelf, tell: (event: HostEvent) => void) {
    this.stamp = stamp;
    this.shelf = shelf;
    this.tell = tell;
    this.before = stamp();
  }

  async beat(): Promise<void> {
    const now = this.stamp();
    const missedMs = missedBetween(this.before, now);
    this.before = now;
    if (missedMs > clockDifferenceMs) {
      for (const session of await this.shelf.writers()) await session.missed({ kind: 'heartbeat', missedMs });
    }
    this.tell({ kind: 'heartbeat', ...now });
  }
}

/** Time that passed without a beat, or by which the clocks parted, in milliseconds (ms). */
export function missedBetween(before: Stamp, now: Stamp): number {
  const tickMs = now.tick - before.tick;
  const wallMs = Date.parse(now.at) - Date.parse(before.at);
  return Math.max(tickMs - beatMs, Math.abs(wallMs - tickMs), 0);
}
