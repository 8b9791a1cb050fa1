import type { BuildRecord, RecordReading } from '../journal/build-record.ts';
import type { ReadingEntryRecord, ReadingRecord } from '../journal/build-state.ts';
import type { ReadingFacts } from '../safety/facts.ts';

/** What a report is made from: a record, or the same parts of a build that is still open. Never the kit. */
export type ReportSource = Pick<
  BuildRecord,
  'app' | 'kit' | 'header' | 'entries' | 'build' | 'facts' | 'photos' | 'together' | 'question'
>;

/** A reading of the kit with everything that was typed for it. */
export interface ReportReading {
  /** Its number in the report, from 1, in the order of the kit. */
  readonly number: number;
  readonly reading: RecordReading;
  /** Null when the record does not know it any more. */
  readonly facts: ReadingFacts | null;
  readonly record: ReadingRecord | null;
  /** The first number typed, and the one that counts. */
  readonly first: ReadingEntryRecord | null;
  readonly last: ReadingEntryRecord | null;
}

/**
 * Every reading of the kit, taken or not, in the order of its conditions.
 *
 * A reading in the journal that the kit part of the record does not list is added at the end: no number is lost.
 */
export function reportReadings({ kit, build, facts }: ReportSource): readonly ReportReading[] {
  const order = kit.conditions.map(({ id }) => id);
  const place = (condition: string): number => {
    const index = order.indexOf(condition);
    return index === -1 ? order.length : index;
  };
  const listed = kit.readings.toSorted((one, other) => place(one.in) - place(other.in));
  const known = new Set(listed.map(({ id }) => id));
  const unlisted = Object.keys(build.readings)
    .filter((id) => !known.has(id))
    .map((id): RecordReading => {
      const own = facts.readings.find((each) => each.id === id);
      const { title = id, at = '', against = '', measure = 'dc volts', in: condition = '' } = own ?? {};
      return { id, title, at, against, measure, unit: unitOf(measure), in: condition };
    });
  return [...listed, ...unlisted].map((reading, index) => {
    const record = build.readings[reading.id] ?? null;
    return {
      number: index + 1,
      reading,
      facts: facts.readings.find((each) => each.id === reading.id) ?? null,
      record,
      first: record?.entries[0] ?? null,
      last: record?.entries.at(-1) ?? null,
    };
  });
}

function unitOf(measure: RecordReading['measure']): RecordReading['unit'] {
  if (measure === 'gain') return '';
  return measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V';
}

/** A condition's title; its id where the record does not know it. */
export function conditionTitle({ kit }: ReportSource, id: string): string {
  return kit.conditions.find((each) => each.id === id)?.title ?? id;
}

/** A condition's letter, for plots that have no room for its title: A for the kit's first. */
export function conditionLetter({ kit }: ReportSource, id: string): string {
  const index = kit.conditions.findIndex((each) => each.id === id);
  return index >= 0 && index < 26 ? String.fromCharCode(65 + index) : '?';
}

/** A reading's title; its id where the record does not know it. */
export function readingTitle({ kit, facts }: ReportSource, id: string): string {
  return (
    (kit.readings.find((each) => each.id === id) ?? facts.readings.find((each) => each.id === id))?.title ??
    id
  );
}

/** A step's title; its id where the record does not know it. */
export function stepTitle({ kit }: ReportSource, id: string): string {
  return kit.steps.find((each) => each.id === id)?.title ?? id;
}

/** "R3, Bleeder": a part with its title where the record knows it. */
export function partName({ kit }: ReportSource, id: string): string {
  const title = kit.parts[id];
  return title === undefined ? id : `${id}, ${title}`;
}
