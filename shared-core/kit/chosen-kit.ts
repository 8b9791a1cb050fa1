import type { Choices, Kit, Place } from './kit.ts';

/**
 * A kit with its options chosen: exactly one variant of each part, lead, reading and condition,
 * and the nets computed from what is soldered to what.
 */
export interface ChosenKit extends Kit {
  readonly choices: Choices;
  /** Every place to the name of its net. A net without a label is named after its first place. */
  readonly netOf: Readonly<Record<Place, string>>;
  /** Every net to its places, sorted. */
  readonly placesOf: Readonly<Record<string, readonly Place[]>>;
}
