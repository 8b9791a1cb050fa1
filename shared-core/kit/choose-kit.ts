import { fail, succeed } from '../problem/problem.ts';
import type { Result } from '../problem/problem.ts';
import type { ChosenKit } from './chosen-kit.ts';
import { didYouMean } from './did-you-mean.ts';
import type { Finding, KitDraft } from './draft.ts';
import type { Choices, Kit } from './kit.ts';
import { computeNets } from './nets.ts';
import { pathOfItem } from './source.ts';
import type { ItemSection } from './source.ts';

/** The first choice of every option. */
export function defaultChoices(kit: Pick<Kit, 'options'>): Choices {
  return Object.fromEntries(kit.options.map(({ id, choices }) => [id, choices[0] ?? '']));
}

/** Most combinations of choices that a kit may have: each is checked and predicted. */
export const MOST_COMBINATIONS = 64;

/** How many combinations of choices a kit has. */
export function countCombinations(kit: Pick<Kit, 'options'>): number {
  return kit.options.reduce((count, { choices }) => count * choices.length, 1);
}

/** Every combination of choices, at most `MOST_COMBINATIONS`. */
export function allChoices(kit: Pick<Kit, 'options'>): readonly Choices[] {
  let combinations: Choices[] = [{}];
  for (const { id, choices } of kit.options) {
    combinations = combinations.flatMap((before) => choices.map((choice) => ({ ...before, [id]: choice })));
    combinations = combinations.slice(0, MOST_COMBINATIONS);
  }
  return combinations;
}

/** Whether a variant is for these choices. */
export function isFor(when: Choices, choices: Choices): boolean {
  return Object.entries(when).every(([option, choice]) => choices[option] === choice);
}

/**
 * Chooses the variant of everything for the choices made, and computes the nets.
 *
 * @param kit The kit with all variants.
 * @param choices Option to choice; options left out take their first choice.
 */
export function chooseKit(kit: Kit, choices: Choices = {}): Result<ChosenKit> {
  for (const [option, choice] of Object.entries(choices)) {
    const known = kit.options.find(({ id }) => id === option);
    if (!known) {
      const hint = didYouMean(
        option,
        kit.options.map(({ id }) => id),
      );
      const message = `${kit.name} has no option "${option}"`;
      return fail({ code: 'kit/unknown-option', severity: 'error', message, hint });
    }
    if (!known.choices.includes(choice)) {
      const message = `The option "${option}" has no choice "${choice}"`;
      const hint = didYouMean(choice, known.choices);
      return fail({ code: 'kit/unknown-choice', severity: 'error', message, hint });
    }
  }
  const { chosen, findings } = chooseVariants(kit, { ...defaultChoices(kit), ...choices }, null);
  const [first, ...rest] = findings.map(({ code, message, hint }) => {
    return { code, severity: 'error' as const, message, hint };
  });
  return first ? fail(first, ...rest) : succeed(chosen);
}

function isKnown(kit: Kit, when: Choices): boolean {
  return Object.entries(when).every(([option, choice]) =>
    kit.options.some(({ id, choices }) => id === option && choices.includes(choice)),
  );
}

interface Variant {
  readonly id: string;
  readonly when: Choices;
}

/** Chooses as far as possible and says where there is no variant, or more than one. */
export function chooseVariants(
  kit: Kit,
  choices: Choices,
  draft: KitDraft | null,
): { readonly chosen: ChosenKit; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  // A variant that could not be read, or whose "when" names nothing, may be the one that seems to be missing.
  const mistyped = [...kit.parts, ...kit.conditions, ...kit.readings].filter(
    ({ when }) => !isKnown(kit, when),
  );
  const isReported = (section: ItemSection, id: string) =>
    draft !== null && (draft.broken.has(`${section} ${id}`) || mistyped.some((item) => item.id === id));
  const choose = <Item extends Variant>(
    section: ItemSection,
    items: readonly Item[],
    mayBeAbsent: boolean,
  ) => {
    const found = new Map<string, Item>();
    for (const item of items) {
      if (!isFor(item.when, choices)) continue;
      if (!found.has(item.id)) found.set(item.id, item);
      else findings.push(variantFinding(section, item, choices, draft, 'kit/two-variants'));
    }
    for (const item of items) {
      if (mayBeAbsent || found.has(item.id) || isReported(section, item.id)) continue;
      findings.push(variantFinding(section, item, choices, draft, 'kit/no-variant'));
    }
    return [...found.values()];
  };
  const parts = choose('parts', kit.parts, false);
  const leads = choose('leads', kit.leads, true);
  const conditions = choose('conditions', kit.conditions, false);
  const readings = choose('readings', kit.readings, false);
  const chapters = kit.chapters.map((chapter) => ({
    ...chapter,
    steps: choose('steps', chapter.steps, true),
  }));
  const { netOf, placesOf } = computeNets({ parts, leads, nets: kit.nets });
  const chosen = { ...kit, parts, leads, conditions, readings, chapters, choices, netOf, placesOf };
  return { chosen, findings };
}

function variantFinding(
  section: ItemSection,
  item: Variant,
  choices: Choices,
  draft: KitDraft | null,
  code: 'kit/no-variant' | 'kit/two-variants',
): Finding {
  const path = draft ? pathOfItem(draft.source, section, item) : section;
  const chosen = Object.entries(choices)
    .map(([option, choice]) => `${option} "${choice}"`)
    .join(', ');
  if (code === 'kit/no-variant') {
    const message = `"${item.id}" has no variant for ${chosen}`;
    return { code, path, message, hint: 'Add a variant whose "when" names this choice.', atKey: true };
  }
  const message = `"${item.id}" has more than one variant for ${chosen || 'every choice'}`;
  return { code, path, message, hint: 'Give each variant a "when" of its own.', atKey: true };
}
