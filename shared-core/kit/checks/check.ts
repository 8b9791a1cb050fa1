import type { ChosenKit } from '../chosen-kit.ts';
import type { DraftSection, Finding, KitDraft } from '../draft.ts';
import type { Condition, Step } from '../kit.ts';
import { pathOfItem } from '../source.ts';

/** What a check may look at: one combination of choices. */
export interface CheckContext {
  readonly draft: KitDraft;
  readonly chosen: ChosenKit;
  /** The chosen steps in order, each with its path. */
  readonly steps: readonly PlacedStep[];
}

export interface PlacedStep {
  readonly step: Step;
  readonly path: string;
}

/** One thing to look for. */
export interface KitCheck {
  /** Sections without which the check would only repeat what is already reported. */
  readonly needs: readonly DraftSection[];
  readonly run: (context: CheckContext) => readonly Finding[];
}

/** Gathers what the checks of one combination need. */
export function checkContext(draft: KitDraft, chosen: ChosenKit): CheckContext {
  const steps = chosen.chapters
    .flatMap((chapter) => chapter.steps)
    .map((step) => ({ step, path: pathOfItem(draft.source, 'steps', step) }));
  return { draft, chosen, steps };
}

/** Whether anything but the mains plug's absence supplies the amplifier: safety rule 2. */
export function isLive(condition: Condition): boolean {
  return condition.supply !== 'unplugged';
}

/** Supplies for which the mains plug goes in; the insulation test is part of the cold gate itself. */
export function isPluggedIn(condition: Condition): boolean {
  return isLive(condition) && condition.supply !== 'insulation-tester';
}

/** The ids of the valves that a condition has fitted. */
export function fittedValves(chosen: ChosenKit, condition: Condition): readonly string[] {
  const valves = chosen.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id);
  return condition.fitted === 'all' ? valves : valves.filter((id) => condition.fitted.includes(id));
}

/** The net of a place, a label or a part's own end. */
export function netAt(chosen: ChosenKit, place: string): string {
  return Object.hasOwn(chosen.netOf, place) ? (chosen.netOf[place] ?? place) : place;
}
