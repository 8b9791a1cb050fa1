import { formatQuantity } from '../units/format-quantity.ts';
import type { AcceptedReading, ConditionedReading } from './condition-on.ts';
import { shiftWorthSaying } from './condition-on.ts';

/**
 * What a good reading moved in the expectations of others, in one sentence.
 *
 * "B+ reads 4 % high: Screen of V2 and 3 others expected higher, Cathode of V2 lower." It names directions, no
 * figures: the number of a reading still to come is not to be known before it is taken. Where readings before it
 * had moved its own expectation, it is compared with that, for that is what it tells anew.
 *
 * @param before Expectations without the new reading.
 * @param after The same readings in the same order, with it.
 * @param last The new reading.
 * @param labels What to call each reading; its id otherwise.
 * @param isToCome Whether a reading is still to be taken; the others are not spoken of.
 * @returns No sentence where nothing moved that is worth saying.
 */
export function movedSentences(
  before: readonly ConditionedReading[],
  after: readonly ConditionedReading[],
  last: AcceptedReading,
  labels: Readonly<Record<string, string>>,
  isToCome: (reading: string) => boolean = () => true,
): readonly string[] {
  const [up, down]: [string[], string[]] = [[], []];
  after.forEach(({ prediction: { id, nominal } }, index) => {
    const shift = shiftOf(before[index], nominal);
    if (shift === 0 || id === last.id || !isToCome(id)) return;
    (shift > 0 ? up : down).push(labels[id] ?? id);
  });
  if (up.length + down.length === 0) return [];
  const own = before.find(({ prediction }) => prediction.id === last.id);
  const sides = [listed(up, 'expected higher'), listed(down, up.length > 0 ? 'lower' : 'expected lower')];
  return [`${labels[last.id] ?? last.id} ${howWords(own, last.value)}: ${sides.filter(Boolean).join(', ')}.`];
}

/** "reads 4 % high", or how far from what the readings before it made one expect. */
function howWords(own: ConditionedReading | undefined, value: number): string {
  const expected = own?.prediction.nominal ?? 0;
  const percent = expected === 0 ? 0 : (100 * (value - expected)) / Math.abs(expected);
  const size = Math.abs(percent);
  if (size < 0.5) return `reads ${formatQuantity(value, own?.prediction.unit ?? '', 3)}`;
  const share = `reads ${size.toPrecision(size >= 10 ? 2 : 1)} %`;
  if (own === undefined || own.because === null) return `${share} ${percent > 0 ? 'high' : 'low'}`;
  return `${share} ${percent > 0 ? 'above' : 'below'} what those before it made one expect`;
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
