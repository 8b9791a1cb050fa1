import type { Reading } from '../kit/kit.ts';

/** The measurement or action that separates the causes best. */
export interface NextStep {
  /** Where the red lead goes; null for an action. */
  readonly place: string | null;
  /** `ohms`, `dc volts` …; null for an action. */
  readonly measure: Reading['measure'] | null;
  readonly condition: string;
  /** What to do, in words, from the plug on. */
  readonly action: string;
  readonly why: string;
  /** Id of the reading, where it is one; the kit's own or one made up for this. */
  readonly reading: string | null;
  /** What it tells, in nats. */
  readonly information: number;
  readonly outcomes: readonly Outcome[];
}

/** What one outcome would mean. */
export interface Outcome {
  /** "about 100 kΩ". */
  readonly shows: string;
  /** The causes that would then be left, likeliest first. */
  readonly means: readonly string[];
  readonly probability: number;
}
