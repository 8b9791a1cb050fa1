/**
 * When an event happened, on both clocks of the host.
 *
 * Intervals are taken from `tick` within one `run`; `at` is recorded, and only compared with `tick`
 * to notice a computer that slept or a clock that was set.
 */
export interface Stamp {
  /** Wall time, UTC, as ISO 8601 text. */
  readonly at: string;
  /** New for each start of the host. */
  readonly run: string;
  /** Monotonic time, in milliseconds (ms). */
  readonly tick: number;
}

/**
 * How an event was given.
 *
 * Only `hand` acknowledges a caution, confirms the plug or settles a proof. `repeat` is a held key.
 */
export type Means = 'hand' | 'voice' | 'foot' | 'repeat' | 'instrument';
