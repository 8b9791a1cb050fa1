import type { DraftSection, Finding, KitDraft } from '../draft.ts';
import { readingsOf } from '../read/to-step.ts';
import type { Part, Step } from '../kit.ts';
import { pathOfItem } from '../source.ts';
import { findPlaceProblem } from './place-problem.ts';
import { unknownName } from './unknown-name.ts';

/** Parts named by a condition: valves fitted, switches, controls, jacks. */
export function checkConditionReferences(draft: KitDraft): Finding[] {
  const { kit, source } = draft;
  return kit.conditions.flatMap((condition) => {
    const path = pathOfItem(source, 'conditions', condition);
    const fitted = condition.fitted === 'all' ? [] : condition.fitted;
    return [
      ...fitted.flatMap((id, n) => checkPart(draft, id, ['valve'], `${path}.fitted.${n}`)),
      ...keysOf(condition.switches, 'switches', ['switch']),
      ...keysOf(condition.controls, 'controls', ['potentiometer']),
      ...keysOf(condition.loads, 'loads', ['jack']),
    ];
    function keysOf(table: object, key: string, kinds: readonly Part['kind'][]) {
      return Object.keys(table).flatMap((id) => checkPart(draft, id, kinds, `${path}.${key}.${id}`, true));
    }
  });
}

/** Places and conditions named by a reading. */
export function checkReadingReferences(draft: KitDraft): Finding[] {
  const { kit, source } = draft;
  return kit.readings.flatMap((reading) => {
    const path = pathOfItem(source, 'readings', reading);
    const against =
      // Without gnd every reading would repeat that it is missing.
      reading.against === 'gnd'
        ? null
        : findPlaceProblem(draft, reading.against, `${path}.against`, 'measure');
    return [
      findPlaceProblem(draft, reading.at, `${path}.at`, 'measure'),
      against,
      ...checkId(draft, 'conditions', reading.in, `${path}.in`, 'kit/unknown-condition'),
    ].filter((finding) => finding !== null);
  });
}

/** Valves named in matched sets. */
export function checkMatchedReferences(draft: KitDraft): Finding[] {
  return (draft.kit.matched ?? []).flatMap((set, n) =>
    set.flatMap((id, m) => checkPart(draft, id, ['valve'], `matched.${n}.${m}`)),
  );
}

/** Parts, leads, readings and conditions named by a step. */
export function checkStepReferences(draft: KitDraft): Finding[] {
  const steps = draft.kit.chapters.flatMap((chapter) => chapter.steps);
  return steps.flatMap((step) => {
    const path = pathOfItem(draft.source, 'steps', step);
    const listKey = step.action.kind === 'gather' ? 'gather' : 'parts';
    return [
      ...step.parts.flatMap((id, n) => checkPart(draft, id, null, `${path}.${listKey}.${n}`)),
      ...step.leads.flatMap((id, n) => checkId(draft, 'leads', id, `${path}.leads.${n}`, 'kit/unknown-lead')),
      ...checkAction(draft, step, path),
    ];
  });
}

function checkAction(draft: KitDraft, step: Step, path: string): Finding[] {
  const { action } = step;
  const readingPath = (n: number) => {
    if (action.kind === 'adjust') return `${path}.adjust.reading`;
    const isNested = action.kind === 'compare' || action.kind === 'soak';
    return isNested ? `${path}.${action.kind}.readings.${n}` : `${path}.${action.kind}.${n}`;
  };
  const findings = readingsOf(action).flatMap((id, n) =>
    checkId(draft, 'readings', id, readingPath(n), 'kit/unknown-reading'),
  );
  if (action.kind === 'fuse') findings.push(...checkPart(draft, action.part, ['fuse'], `${path}.fuse`));
  if (action.kind === 'adjust') {
    const kinds = ['potentiometer'] as const;
    findings.push(...checkPart(draft, action.control, kinds, `${path}.adjust.control`));
  }
  if (action.kind === 'switch-on') {
    const at = `${path}.switch-on`;
    findings.push(...checkId(draft, 'conditions', action.condition, at, 'kit/unknown-condition'));
  }
  return findings;
}

function checkId(
  draft: KitDraft,
  section: DraftSection,
  id: string,
  path: string,
  code: Finding['code'],
): Finding[] {
  return draft.declared[section].has(id) ? [] : [unknownName(draft, section, id, path, code)];
}

/** A part that must exist and, where it matters, be of one of these kinds. */
function checkPart(
  draft: KitDraft,
  id: string,
  kinds: readonly Part['kind'][] | null,
  path: string,
  atKey = false,
): Finding[] {
  if (!draft.declared.parts.has(id))
    return [unknownName(draft, 'parts', id, path, 'kit/unknown-part', atKey)];
  const part = draft.kit.parts.find((known) => known.id === id);
  if (!part || kinds === null || kinds.includes(part.kind)) return [];
  const message = `"${id}" is a ${part.kind}; expected a ${kinds.join(' or ')}`;
  const known = draft.kit.parts.filter(({ kind }) => kinds.includes(kind)).map((other) => other.id);
  const hint = known.length > 0 ? `There is ${known.join(', ')}.` : 'There is none in this kit.';
  return [{ code: 'kit/unknown-part', path, message, hint, atKey }];
}
