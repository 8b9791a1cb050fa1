/** An instrument on a cable, as recorded in a build: by hand, since nobody can ask it this. */
export interface RecordedInstrument {
  /** Its answer to `*IDN?`, as sent: the same instrument gives the same. */
  readonly identity: string;
  /** For people: maker, model, serial number. */
  readonly name: string;
  /** Where it answers, in words. */
  readonly address: string;
  /** Its inputs are isolated from earth, and from the cable to this computer. */
  readonly isolated: boolean;
  /** Rated volts from its inputs to earth, in volts (V); of no meaning where not isolated. */
  readonly earthVolts: number;
}

/** Where a number came from that was taken from an instrument, and then entered by hand. */
export interface TakenFrom {
  /** The instrument's identity. */
  readonly instrument: string;
  /** As the instrument sent it. */
  readonly reply: string;
  /** As the instrument named it: `VOLT:AC`. */
  readonly function: string;
  /** In the reading's SI unit; null where the instrument did not say. */
  readonly range: number | null;
}
