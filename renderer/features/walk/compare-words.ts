import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import { shareApart } from '../../../shared-core/safety/compare.ts';
import { formatNumber, formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

type CompareKit = Pick<ChosenKit, 'readings' | 'nets' | 'matched'>;

/** What each reading showed last, in its SI unit; null where it has no figure. */
export type ValueOf = (reading: string) => number | null;

/**
 * Two readings beside each other in figures: "Anode, left 118 V, anode, right 121 V: the second is higher by 3 V."
 *
 * Null until both are there.
 */
export function pairWords(kit: CompareKit, ids: readonly [string, string], valueOf: ValueOf): string | null {
  const [one, other] = ids.map((id) => kit.readings.find((reading) => reading.id === id));
  const [first, second] = ids.map(valueOf);
  if (one === undefined || other === undefined || first == null || second == null) return null;
  const unit = unitOfMeasure(one.measure);
  const each = `${one.title} ${figure(first, unit)}, ${other.title} ${figure(second, unit)}`;
  const apart = Math.abs(first) - Math.abs(second);
  if (apart === 0) return `${each}: the same.`;
  return `${each}: the ${apart > 0 ? 'first' : 'second'} is higher by ${figure(Math.abs(apart), unit)}.`;
}

/**
 * A matched set in figures, where the readings compared belong to one: each valve's own reading of the same pin in
 * the same condition, and the two that are farthest apart.
 *
 * Null where the kit names no such set, or fewer than two of it were read.
 */
export function matchedWords(
  kit: CompareKit,
  ids: readonly [string, string],
  valueOf: ValueOf,
): string | null {
  const [one, other] = ids.map((id) => kit.readings.find((reading) => reading.id === id));
  if (one === undefined || other === undefined) return null;
  const [socket, pin] = socketOf(kit, one.at);
  const set = kit.matched?.find((each) => each.includes(socket) && each.includes(socketOf(kit, other.at)[0]));
  if (set === undefined) return null;
  const taken = set.flatMap((member) => {
    const own = kit.readings.find(
      (reading) =>
        reading.in === one.in &&
        reading.measure === one.measure &&
        socketOf(kit, reading.at)[0] === member &&
        socketOf(kit, reading.at)[1] === pin,
    );
    const value = own === undefined ? null : valueOf(own.id);
    return value === null ? [] : [{ member, value }];
  });
  const unit = unitOfMeasure(one.measure);
  const sorted = taken.toSorted((left, right) => Math.abs(left.value) - Math.abs(right.value));
  const [low, high] = [sorted[0], sorted.at(-1)];
  if (low === undefined || high === undefined || sorted.length < 2) return null;
  const list = taken.map(({ member, value }) => `${member} ${figure(value, unit)}`).join(', ');
  const share = formatQuantity(shareApart(low.value, high.value) ?? 0, '%', 2);
  return `Matched set ${set.join(', ')}: ${list}. Farthest apart: ${low.member} and ${high.member}, ${share}.`;
}

function socketOf({ nets }: CompareKit, at: string): readonly [string, string] {
  const [id = '', pin = ''] = (nets[at] ?? at).split('.');
  return [id, pin];
}

/** As a meter on one range shows both: no change of prefix between them. */
function figure(value: number, unit: Unit): string {
  return unit === 'V' && Math.abs(value) >= 1e-3
    ? `${formatNumber(value)}\u202fV`
    : formatQuantity(value, unit);
}
