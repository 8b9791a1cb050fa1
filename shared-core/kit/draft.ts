import type { KitProblem } from '../problem/problem.ts';
import type { Kit, Place } from './kit.ts';
import type { KitSource } from './source.ts';

/**
 * A kit read as far as it goes: the items that are well-formed, and what is known of the rest.
 *
 * Later checks use it to stay silent about what is already reported.
 */
export interface KitDraft {
  readonly kit: Kit;
  readonly source: KitSource;
  /** Ids of each section that the file declares, well-formed or not. */
  readonly declared: Readonly<Record<DraftSection, ReadonlySet<string>>>;
  /** Ids that the file declares but that could not be read: `parts R4`. */
  readonly broken: ReadonlySet<string>;
  /** Places that broken parts and leads are soldered to. */
  readonly brokenEnds: ReadonlySet<Place>;
  /** Every text in a broken step: whatever it names may well be meant to be used there. */
  readonly brokenMentions: ReadonlySet<string>;
}

export type DraftSection =
  'options' | 'valves' | 'parts' | 'leads' | 'nets' | 'conditions' | 'readings' | 'steps';

/** What a check reports before file and position are added. */
export interface Finding {
  readonly code: KitProblem['code'];
  readonly path: string;
  readonly message: string;
  readonly hint: string;
  /** Point at the name instead of the value. */
  readonly atKey?: boolean;
  readonly severity?: KitProblem['severity'];
}

/** Whether an item was declared but could not be read. */
export function isBroken(draft: KitDraft, section: DraftSection, id: string): boolean {
  return draft.broken.has(`${section} ${id}`);
}
