import { didYouMean } from '../did-you-mean.ts';
import type { Finding, KitDraft } from '../draft.ts';
import type { Choices } from '../kit.ts';
import { pathOfItem } from '../source.ts';
import {
  checkConditionReferences,
  checkMatchedReferences,
  checkReadingReferences,
  checkStepReferences,
} from './references-of-use.ts';
import { findPlaceProblem } from './place-problem.ts';
import { unknownName } from './unknown-name.ts';

/** Names that point at nothing: parts, ends, nets, leads, readings, conditions, options. */
export function checkReferences(draft: KitDraft): Finding[] {
  return [
    ...checkCircuitReferences(draft),
    ...checkWhens(draft),
    ...checkConditionReferences(draft),
    ...checkMatchedReferences(draft),
    ...checkReadingReferences(draft),
    ...checkStepReferences(draft),
  ];
}

/** Ends of parts and leads, labels of nets, positions of the layout. */
function checkCircuitReferences(draft: KitDraft): Finding[] {
  const { kit, source } = draft;
  const findings: (Finding | null)[] = [];
  for (const part of kit.parts) {
    if (!('between' in part)) continue;
    const path = pathOfItem(source, 'parts', part);
    part.between.forEach((end, index) => {
      findings.push(findPlaceProblem(draft, end, `${path}.between.${index}`, 'solder'));
    });
  }
  for (const lead of kit.leads) {
    const path = pathOfItem(source, 'leads', lead);
    findings.push(findPlaceProblem(draft, lead.from, `${path}.from`, 'solder'));
    findings.push(findPlaceProblem(draft, lead.to, `${path}.to`, 'solder'));
  }
  for (const [name, place] of Object.entries(kit.nets)) {
    findings.push(findPlaceProblem(draft, place, `nets.${name}`, 'solder'));
  }
  for (const id of Object.keys(kit.layout)) {
    if (draft.declared.parts.has(id)) continue;
    findings.push(unknownName(draft, 'parts', id, `layout.${id}`, 'kit/unknown-part', true));
  }
  if (!draft.declared.nets.has('gnd') && kit.parts.length > 0) {
    const message = 'No net is labelled "gnd", against which readings are taken';
    const hint = 'Add gnd: and one of its places under nets.';
    findings.push({ code: 'kit/no-ground', path: 'nets', message, hint, atKey: true });
  }
  return findings.filter((finding) => finding !== null);
}

/** Options and choices named in `when`. */
function checkWhens(draft: KitDraft): Finding[] {
  const { kit, source } = draft;
  const steps = kit.chapters.flatMap((chapter) => chapter.steps);
  const sections = [
    ['parts', kit.parts],
    ['leads', kit.leads],
    ['conditions', kit.conditions],
    ['readings', kit.readings],
    ['steps', steps],
  ] as const;
  return sections.flatMap(([section, items]) =>
    items.flatMap((item: { readonly id: string; readonly when: Choices }) => {
      const path = `${pathOfItem(source, section, item)}.when`;
      return Object.entries(item.when).flatMap(([option, choice]) => checkWhen(draft, option, choice, path));
    }),
  );
}

function checkWhen(draft: KitDraft, option: string, choice: string, path: string): Finding[] {
  const known = draft.kit.options.find(({ id }) => id === option);
  if (!known) {
    if (draft.declared.options.has(option)) return [];
    return [unknownName(draft, 'options', option, `${path}.${option}`, 'kit/unknown-option', true)];
  }
  if (known.choices.includes(choice)) return [];
  const message = `The option "${option}" has no choice "${choice}"`;
  const hint = didYouMean(choice, known.choices);
  return [{ code: 'kit/unknown-choice', path: `${path}.${option}`, message, hint }];
}
