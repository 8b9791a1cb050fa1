import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Lead, Part, Place, Step } from '../kit/kit.ts';
import type { SafetyState } from '../safety/energy-state.ts';

/** What a revision or erratum changes in the kit of a build, and what it takes back there. */
export interface KitDifference {
  readonly revision: string;
  readonly kitHash: string;
  /** Parts, leads, conditions, readings and steps that are new, gone or other ones; by id. */
  readonly parts: readonly string[];
  readonly leads: readonly string[];
  readonly conditions: readonly string[];
  readonly readings: readonly string[];
  readonly steps: readonly string[];
  /** Steps begun or finished that are done again. */
  readonly reopenedSteps: readonly string[];
  /** Readings taken that no longer count. */
  readonly takenBack: readonly string[];
}

/**
 * Compares the kit of a build with a changed one, both for the same choices.
 *
 * A finished step reopens when it is another one, or when a part, lead or reading of it is. A reading no longer
 * counts when it or its condition is another one; live ones also when any part is, because every part moves them;
 * cold ones when a part on their net is.
 */
export function compareKits(
  before: ChosenKit,
  after: ChosenKit,
  kitHash: string,
  { steps, readings }: Pick<SafetyState, 'steps' | 'readings'>,
): KitDifference {
  const parts = changedIds(before.parts, after.parts);
  const leads = changedIds(before.leads, after.leads);
  const conditions = changedIds(before.conditions, after.conditions);
  const own = changedIds(before.readings, after.readings);
  const changedSteps = changedIds(stepsOf(before).map(asWork), stepsOf(after).map(asWork));
  const nets = new Set([before, after].flatMap((kit) => netsTouched(kit, parts, leads)));
  const takenBack = after.readings.flatMap(({ id, at, against, in: condition }) => {
    if (readings[id] === undefined) return [];
    const isCold = after.conditions.find((each) => each.id === condition)?.supply === 'unplugged';
    const isOn = [at, against].some((place) => nets.has(after.netOf[place] ?? place));
    const isMoved = isCold ? isOn : parts.length + leads.length > 0;
    return own.includes(id) || conditions.includes(condition) || isMoved ? [id] : [];
  });
  const reopenedSteps = stepsOf(after).flatMap((step) => {
    const isBegun = steps[step.id] !== undefined;
    const isTouched =
      changedSteps.includes(step.id) ||
      step.parts.some((part) => parts.includes(part)) ||
      step.leads.some((lead) => leads.includes(lead)) ||
      readingsIn(step).some((reading) => own.includes(reading));
    return isBegun && isTouched ? [step.id] : [];
  });
  const { revision } = after;
  return {
    revision,
    kitHash,
    parts,
    leads,
    conditions,
    readings: own,
    steps: changedSteps,
    reopenedSteps,
    takenBack,
  };
}

function stepsOf({ chapters }: ChosenKit): readonly Step[] {
  return chapters.flatMap((chapter) => chapter.steps);
}

/** A step without what only explains it. */
function asWork({ id, do: words, reach, parts, leads, cautions, inspect, action }: Step) {
  return { id, do: words, reach, parts, leads, cautions, inspect, action };
}

function readingsIn({ action }: Step): readonly string[] {
  if (action.kind === 'adjust') return [action.reading];
  return 'readings' in action ? (action.readings as readonly string[]) : [];
}

interface Named {
  readonly id: string;
}

/** Ids that only one side has, or that stand for something else. */
function changedIds(before: readonly Named[], after: readonly Named[]): readonly string[] {
  const old = new Map(before.map((each) => [each.id, JSON.stringify(each)]));
  const now = new Map(after.map((each) => [each.id, JSON.stringify(each)]));
  const ids = new Set([...old.keys(), ...now.keys()]);
  return [...ids].filter((id) => old.get(id) !== now.get(id));
}

function netsTouched(kit: ChosenKit, parts: readonly string[], leads: readonly string[]): readonly string[] {
  const places: readonly Place[] = [
    ...kit.parts.filter(({ id }) => parts.includes(id)).flatMap((part) => placesOn(kit, part)),
    ...kit.leads.filter(({ id }) => leads.includes(id)).flatMap(({ from, to }: Lead) => [from, to]),
  ];
  const grounds = ['gnd', 'chassis'].map((place) => kit.netOf[place] ?? place);
  return places.map((place) => kit.netOf[place] ?? place).filter((net) => !grounds.includes(net));
}

function placesOn({ netOf }: ChosenKit, part: Part): readonly Place[] {
  const own = Object.keys(netOf).filter((place) => place.startsWith(`${part.id}.`));
  return 'between' in part ? [...part.between, ...own] : own;
}
