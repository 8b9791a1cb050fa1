import type { BuildState } from '../../../shared-core/journal/build-state.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import type { Condition } from '../../../shared-core/kit/kit.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';

/** Conditions with something to read at a net: what a socket can be shown in. */
export function glanceConditions({ conditions, readings }: ChosenKit): readonly Condition[] {
  const read = new Set(
    readings
      .filter(({ measure }) => measure !== 'gain' && measure !== 'insulation')
      .map((reading) => reading.in),
  );
  return conditions.filter(({ id }) => read.has(id));
}

/** The condition that is live, else that of the last number entered, else the kit's last one on the mains. */
export function conditionToShow(
  kit: ChosenKit,
  { readings }: Pick<BuildState, 'readings'>,
  { energy }: Pick<SafetyState, 'energy'>,
): string | null {
  const shown = glanceConditions(kit);
  const has = (id: string | null | undefined): id is string => shown.some((each) => each.id === id);
  if (energy.kind === 'live' && has(energy.condition)) return energy.condition;
  const [last] = kit.readings
    .flatMap(({ id, in: condition }) => {
      const seq = readings[id]?.entries.at(-1)?.seq;
      return seq === undefined || !has(condition) ? [] : [{ seq, condition }];
    })
    .toSorted((one, other) => other.seq - one.seq);
  const live = shown.findLast(({ supply }) => supply === 'mains');
  return last?.condition ?? live?.id ?? shown.at(-1)?.id ?? null;
}
