import { nearestWord } from '../did-you-mean.ts';
import type { Finding, KitDraft } from '../draft.ts';
import type { Place } from '../kit.ts';
import { partIdOf } from '../places.ts';
import { readingsOf } from '../read/to-step.ts';
import { pathOfItem } from '../source.ts';
import { fittedValves } from './check.ts';
import type { CheckContext, KitCheck, PlacedStep } from './check.ts';

/** Parts and leads that no step asks the builder to fit. */
export const checkEverythingIsFitted: KitCheck = {
  needs: [],
  run: ({ chosen, steps, draft }) => {
    const fitting = steps.filter(({ step }) => step.action.kind !== 'gather').map(({ step }) => step);
    const parts = meant(
      fitting.flatMap((step) => step.parts),
      draft,
      'parts',
    );
    const leads = meant(
      fitting.flatMap((step) => step.leads),
      draft,
      'leads',
    );
    const missing = (
      code: 'kit/part-of-no-step' | 'kit/lead-of-no-step',
      id: string,
      path: string,
    ): Finding => {
      const key = code === 'kit/part-of-no-step' ? 'parts' : 'leads';
      const hint = `Add ${id} to the "${key}" of the step that fits it.`;
      return { code, path, message: `No step fits ${id}`, hint, atKey: true };
    };
    return [
      ...chosen.parts
        .filter(({ id }) => !parts.has(id))
        .map((part) => missing('kit/part-of-no-step', part.id, pathOfItem(draft.source, 'parts', part))),
      ...chosen.leads
        .filter(({ id }) => !leads.has(id))
        .map((lead) => missing('kit/lead-of-no-step', lead.id, pathOfItem(draft.source, 'leads', lead))),
    ];
  },
};

/** Ids that steps name, or seem to mean: a mistyped one is reported as such and not again as left out. */
function meant(named: readonly string[], draft: KitDraft, section: 'parts' | 'leads'): ReadonlySet<string> {
  const known = draft.declared[section];
  const mistyped = named.filter((id) => !known.has(id));
  const nearest = mistyped.flatMap((id) => nearestWord(id, [...known]) ?? []);
  return new Set([...named, ...nearest, ...draft.brokenMentions]);
}

/** Steps that need a part which is fitted later or never. */
export const checkStepOrder: KitCheck = {
  needs: ['parts', 'leads', 'steps'],
  run: (context) => {
    const fitted = new Set<string>();
    const known = new Set(context.chosen.parts.map(({ id }) => id));
    // A part that no step fits is reported once, as such, and not again by every step that uses it.
    const ever = new Set(
      context.steps.flatMap(({ step }) => (step.action.kind === 'gather' ? [] : step.parts)),
    );
    return context.steps.flatMap((placed) => {
      if (placed.step.action.kind === 'gather') return [];
      for (const id of placed.step.parts) fitted.add(id);
      return needsOf(context, placed).flatMap(({ id, what, path }): Finding[] => {
        if (!known.has(id) || fitted.has(id) || !ever.has(id)) return [];
        const message = `${what}, but ${id} is not fitted yet at this step`;
        const hint = `Fit ${id} in an earlier step, or move this one down.`;
        return [{ code: 'kit/unfitted-part', path, message, hint }];
      });
    });
  },
};

interface Need {
  readonly id: string;
  readonly what: string;
  readonly path: string;
}

/** The parts that a step relies on. */
function needsOf({ chosen }: CheckContext, { step, path }: PlacedStep): Need[] {
  const needs: Need[] = [];
  const needPlace = (place: Place, what: string, at: string) => {
    const known = Object.hasOwn(chosen.nets, place) ? (chosen.nets[place] ?? place) : place;
    const id = known.startsWith('inlet.') ? inletOf() : partIdOf(known);
    if (id !== null) needs.push({ id, what, path: at });
  };
  const inletOf = () => chosen.parts.find(({ kind }) => kind === 'mains-inlet')?.id ?? null;
  step.parts.forEach((id, n) => {
    const part = chosen.parts.find((other) => other.id === id);
    if (!part || !('between' in part)) return;
    for (const end of part.between) needPlace(end, `${id} is soldered to ${end}`, `${path}.parts.${n}`);
  });
  step.leads.forEach((id, n) => {
    const lead = chosen.leads.find((other) => other.id === id);
    for (const end of lead ? [lead.from, lead.to] : []) {
      needPlace(end, `${id} goes to ${end}`, `${path}.leads.${n}`);
    }
  });
  const { action } = step;
  if (action.kind === 'fuse') needs.push({ id: action.part, what: 'The fuse is read', path: `${path}.fuse` });
  if (action.kind === 'adjust') {
    needs.push({ id: action.control, what: `${action.control} is turned`, path: `${path}.adjust.control` });
  }
  for (const id of readingsOf(action)) {
    const reading = chosen.readings.find((other) => other.id === id);
    for (const end of reading ? [reading.at, reading.against] : []) {
      needPlace(end, `"${id}" is measured at ${end}`, `${path}.${action.kind}`);
    }
  }
  if (action.kind === 'switch-on') {
    const condition = chosen.conditions.find(({ id }) => id === action.condition);
    for (const id of condition ? fittedValves(chosen, condition) : []) {
      needs.push({ id, what: `"${action.condition}" has ${id} fitted`, path: `${path}.switch-on` });
    }
  }
  return needs;
}
