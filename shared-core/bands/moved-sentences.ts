import type { ConditionedReading } from './condition-on.ts';
import { shiftWorthSaying } from './condition-on.ts';

/**
 * What a reading moved in the expectations of others: one sentence for each cause.
 *
 * "B+ reads 4 % high: Screen of V2 and 3 others are expected higher, Cathode of V2 lower." It names directions, no
 * figures: the number of a reading still to come is not to be known before it is taken.
 *
 * @param before Expectations without the new reading.
 * @param after The same readings in the same order, with it.
 * @param labels What to call each reading; its id otherwise.
 * @param isToCome Whether a reading is still to be taken; the others are not spoken of.
 */
export function movedSentences(
  before: readonly ConditionedReading[],
  after: readonly ConditionedReading[],
  labels: Readonly<Record<string, string>>,
  isToCome: (reading: string) => boolean = () => true,
): readonly string[] {
  const causes = new Map<string, { readonly how: string; readonly up: string[]; readonly down: string[] }>();
  after.forEach(({ prediction, cause }, index) => {
    const shift = shiftOf(before[index], prediction.nominal);
    if (cause === null || shift === 0 || !isToCome(prediction.id)) return;
    const own = causes.get(cause.reading) ?? { how: cause.how, up: [], down: [] };
    causes.set(cause.reading, own);
    (shift > 0 ? own.up : own.down).push(labels[prediction.id] ?? prediction.id);
  });
  return [...causes].map(([reading, { how, up, down }]) => {
    const sides = [listed(up, 'expected higher'), listed(down, up.length > 0 ? 'lower' : 'expected lower')];
    return `${labels[reading] ?? reading} ${how}: ${sides.filter(Boolean).join(', ')}.`;
  });
}

/** Change of the expected value that is worth saying; 0 where it is none. */
function shiftOf(before: ConditionedReading | undefined, to: number | null): number {
  const from = before?.prediction.nominal ?? null;
  if (from === null || to === null) return 0;
  return Math.abs(to - from) < shiftWorthSaying * Math.abs(from) ? 0 : to - from;
}

function listed(names: readonly string[], how: string): string {
  const [first, second] = names;
  if (first === undefined) return '';
  if (second === undefined) return `${first} ${how}`;
  const others = names.length === 2 ? second : `${names.length - 1} others`;
  return `${first} and ${others} ${how}`;
}
