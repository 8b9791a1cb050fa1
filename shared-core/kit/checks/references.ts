import { didYouMean } from '../did-you-mean.ts';
import type { Finding, KitDraft } from '../draft.ts';

/** Names that point at nothing: parts, ends, nets, leads, readings, conditions, options. */
export function checkReferences(draft: KitDraft): Finding[] {
  void didYouMean;
  void draft;
  return [];
}
