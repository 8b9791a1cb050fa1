import type { MeterEntry } from '../bands/verdict.ts';
import type { Choices } from '../kit/kit.ts';
import type { Means } from '../safety/stamp.ts';
import type { SafetyEvent } from '../safety/events.ts';
import type { StartedFrom } from '../safety/energy-state.ts';

interface By {
  readonly by: Means;
}

/** The first event of every journal. */
export interface BuildStarted extends By {
  readonly kind: 'build-started';
  readonly startedFrom: StartedFrom;
  readonly choices: Choices;
  /** Version of the app that wrote it. */
  readonly app: string;
}

/** A part measured before it was fitted, in its SI unit (Ω, F, H). */
export interface PartMeasured extends By {
  readonly kind: 'part-measured';
  readonly part: string;
  readonly value: number;
  readonly typed: string;
}

/** A part that was not there, or something else fitted instead. */
export interface PartDiffers extends By {
  readonly kind: 'part-differs';
  readonly part: string;
  readonly how: 'missing' | 'fitted instead';
  readonly what: string;
}

/** Cold ohms at a place that the kit has no reading for, taken while a fault is looked for. */
export interface PlaceMeasured extends By {
  readonly kind: 'place-measured';
  /** The name that the search for faults has for it. */
  readonly reading: string;
  readonly at: string;
  readonly against: string;
  readonly entry: MeterEntry;
  readonly typed: string;
}

export interface NoteWritten extends By {
  readonly kind: 'note-written';
  /** The step or reading it belongs to; null for the build as a whole. */
  readonly about: string | null;
  readonly text: string;
}

/** A picture beside the journal; named by its SHA-256. */
export interface PhotoAdded extends By {
  readonly kind: 'photo-added';
  readonly about: string | null;
  readonly file: string;
  readonly sha256: string;
  readonly caption: string;
}

/** The band of a reading was put on screen. */
export interface BandShown {
  readonly kind: 'band-shown';
  readonly reading: string;
}

/** A service: what the readings of the old record were, to compare with. Proves nothing. */
export interface DayOneTaken extends By {
  readonly kind: 'day-one-taken';
  /** The old record's seal. */
  readonly record: string;
  /** When it was signed, or written last; UTC. */
  readonly at: string | null;
  /** Reading to what its meter showed last. */
  readonly readings: Readonly<Record<string, MeterEntry>>;
}

/** The builder signs: initials or a name, as they like. */
export interface Signed extends By {
  readonly kind: 'signed';
  readonly name: string;
}

export interface Exported extends By {
  readonly kind: 'exported';
  readonly what: 'record' | 'report';
}

/** Everything that can happen in a build. */
export type BuildEvent =
  | SafetyEvent
  | BuildStarted
  | PartMeasured
  | PartDiffers
  | PlaceMeasured
  | NoteWritten
  | PhotoAdded
  | BandShown
  | DayOneTaken
  | Signed
  | Exported;
