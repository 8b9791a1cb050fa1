import { didYouMean } from '../did-you-mean.ts';
import type { DraftSection, Finding, KitDraft } from '../draft.ts';

/** A finding for a name that no item of the section has. */
export function unknownName(
  draft: KitDraft,
  section: DraftSection,
  id: string,
  path: string,
  code: Finding['code'],
  atKey = false,
): Finding {
  const nouns = {
    options: 'option',
    valves: 'valve type',
    parts: 'part',
    leads: 'lead',
    nets: 'net',
    conditions: 'condition',
    readings: 'reading',
    steps: 'step',
  };
  const message = `There is no ${nouns[section]} "${id}"`;
  return { code, path, message, hint: didYouMean(id, [...draft.declared[section]]), atKey };
}
