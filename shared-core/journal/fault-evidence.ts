import type { MeterEntry } from '../bands/verdict.ts';
import type { ExplainQuestion } from '../faults/explain.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import { isBlocking } from '../safety/lookup.ts';
import type { BuildState, ReadingEntryRecord } from './build-state.ts';

/** What a build knows about its fault: every reading that counts, and the signs since the last repair. */
export type FaultEvidence = Required<Pick<ExplainQuestion, 'taken' | 'checked' | 'signs'>>;

/** Two numbers closer than this were the same one read twice, relative: the last digits of a meter run. */
const sameReading = 0.03;

/** Below this two numbers are the same, in volts (V), ohms (Ω) or as a gain. */
const sameFloor = 0.05;

type Evident = Pick<BuildState, 'readings' | 'repairs' | 'wrongs' | 'bench' | 'measuredPlaces'>;

/**
 * Gathers what is to be explained, in the order taken.
 *
 * Readings that count no more, because hands were inside since, say nothing; nor do those on a warming amplifier.
 * Ohms are told without those of the builder's leads. What was read twice alike is no slip of the moment.
 */
export function faultEvidence(
  build: Evident,
  { readings: known }: Pick<ChosenKit, 'readings'>,
): FaultEvidence {
  const since = build.repairs.at(-1)?.at ?? '';
  const leadOhms = build.bench?.leads.ohms ?? 0;
  const isOhms = new Set(known.filter(({ measure }) => measure === 'ohms').map(({ id }) => id));
  const counted = Object.entries(build.readings).flatMap(([id, { entries, counts, verdict }]) => {
    const last = entries.at(-1);
    return counts && last !== undefined && verdict !== 'still warming' ? [{ id, entries, last }] : [];
  });
  const own = counted
    .toSorted((one, other) => one.last.seq - other.last.seq)
    .map(({ id, last }) => ({ id, value: figureOf(last.entry, isOhms.has(id) ? leadOhms : 0) }));
  const beyond = (build.measuredPlaces ?? [])
    .filter(({ time }) => time >= since)
    .map(({ reading, entry }) => ({ id: reading, value: figureOf(entry, leadOhms) }));
  return {
    taken: [...own, ...beyond],
    checked: counted.filter(({ entries }) => isReadTwice(entries)).map(({ id }) => id),
    signs: [...new Set(build.wrongs.filter(({ at }) => at >= since).flatMap(({ signs }) => signs))],
  };
}

/** Whether something stands that asks for a cause: a reading that does not fit, or a sign. */
export function asksForCause(build: Evident, kit: Pick<ChosenKit, 'readings'>): boolean {
  const isOff = Object.values(build.readings).some(
    ({ counts, verdict, settled }) => counts && settled === 'open' && isBlocking(verdict),
  );
  return isOff || faultEvidence(build, kit).signs.length > 0;
}

function figureOf(entry: MeterEntry, leadOhms: number): number | null {
  return entry.kind === 'overload' ? null : Math.max(0, entry.value - leadOhms) || entry.value;
}

function isReadTwice(entries: readonly ReadingEntryRecord[]): boolean {
  const [before, last] = entries.slice(-2).map(({ entry }) => entry);
  if (before === undefined || last === undefined) return false;
  if (before.kind === 'overload' || last.kind === 'overload') return before.kind === last.kind;
  const limit = Math.max(sameFloor, sameReading * Math.max(Math.abs(before.value), Math.abs(last.value)));
  return Math.abs(before.value - last.value) <= limit;
}
