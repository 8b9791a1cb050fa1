/** An end, a pin, a tag or a terminal: `V3.1`, `TS1.4`, `T1.ht.a`, `chassis`, `inlet.line`. */
export type Place = string;

/** One chosen value for each option. */
export type Choices = Readonly<Record<string, string>>;

/** Relative limits: −5 % and +5 % are `{ low: -0.05, high: 0.05 }`. */
export interface Tolerance {
  readonly low: number;
  readonly high: number;
}

/** What every part has. */
export interface PartCommon {
  /** Capitals and digits, with a channel as `V2-left`. */
  readonly id: string;
  /** The choices this variant is for; empty for all. */
  readonly when: Choices;
  /** What it is, in the builder's words: "Volume control". */
  readonly title: string;
  /** What is printed on it, where that is not derived from the value. */
  readonly marking?: string;
}
