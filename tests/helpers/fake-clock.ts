import type { Stamp } from '../../shared-core/safety/stamp.ts';

/** A host's two clocks, moved by hand. */
export interface FakeClock {
  readonly now: () => Stamp;
  /** Both clocks run on, in seconds (s). */
  readonly wait: (seconds: number) => void;
  /** The wall clock alone moves: sleep on most machines, or a clock that was set. */
  readonly jump: (seconds: number) => void;
  /** A new start of the host, some seconds later (s). */
  readonly restart: (seconds?: number) => void;
}

/** A clock that starts at a fixed moment, with runs named `run-1`, `run-2` … */
export function fakeClock(startAt = '2026-03-07T09:00:00.000Z'): FakeClock {
  let wallMs = Date.parse(startAt);
  let tick = 1_000;
  let run = 1;
  return {
    now: () => ({ at: new Date(wallMs).toISOString(), run: `run-${run}`, tick }),
    wait: (seconds) => {
      wallMs += seconds * 1000;
      tick += seconds * 1000;
    },
    jump: (seconds) => {
      wallMs += seconds * 1000;
    },
    restart: (seconds = 30) => {
      wallMs += seconds * 1000;
      tick = 1_000;
      run += 1;
    },
  };
}
