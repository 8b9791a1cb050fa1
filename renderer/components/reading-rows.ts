import type { MeterEntry, Verdict } from '../../shared-core/bands/verdict.ts';
import type { BandFigures } from '../../shared-core/drawing/band-scene.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { unitOfMeasure } from '../../shared-core/kit/read/to-reading.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { Unit } from '../../shared-core/units/unit.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { readingsOfStep } from '../../shared-core/safety/lookup.ts';
import type { FromOthers } from '../../shared-core/bands/see-together.ts';
import { entryWords } from './measure-words.ts';

/** One reading as a row of a table. */
export interface ReadingRow {
  readonly id: string;
  readonly title: string;
  readonly group: string;
  /** What the meter showed; null while it was not taken. */
  readonly shown: string | null;
  readonly value: number | null;
  readonly band: BandFigures | null;
  readonly verdict: Verdict | null;
  /** What the old record says, at a service: once its own number was typed, like a band. Else null. */
  readonly dayOne: string | null;
  /** What is worth knowing: typed more than once, accepted, asked for again. */
  readonly remarks: readonly string[];
}

interface Source {
  readonly kit: Pick<ChosenKit, 'readings' | 'conditions'>;
  readonly facts: Pick<SafetyFacts, 'readings' | 'steps'>;
}

/**
 * Rows of a build: all readings of the kit in the order in which its steps ask for them, or, without a kit,
 * those that were taken, as bare figures.
 */
export function readingRows(build: BuildState, source: Source | null): readonly ReadingRow[] {
  if (source === null) {
    return Object.keys(build.readings).map((id) => row(build, id, id, 'readings', null, null, null));
  }
  return inOrderOfSteps(source).map((reading) => {
    const group = source.kit.conditions.find(({ id }) => id === reading.in)?.title ?? reading.in;
    const facts = source.facts.readings.find(({ id }) => id === reading.id);
    const unit = unitOfMeasure(reading.measure);
    return row(
      build,
      reading.id,
      reading.title,
      group,
      unit,
      facts?.stopAbove ?? null,
      facts?.stopBelow ?? null,
    );
  });
}

function row(
  build: BuildState,
  id: string,
  title: string,
  group: string,
  unit: Unit | null,
  stopAbove: number | null,
  stopBelow: number | null,
): ReadingRow {
  const then = build.dayOne?.readings[id];
  const dayOne = then === undefined ? null : unit === null ? plainEntry(then) : entryWords(then, unit);
  const record = build.readings[id];
  const last = record?.entries.at(-1);
  if (record === undefined || last === undefined) {
    return {
      id,
      title,
      group,
      shown: null,
      value: null,
      band: null,
      verdict: null,
      dayOne: null,
      remarks: [],
    };
  }
  return {
    id,
    title,
    group,
    shown: unit === null ? last.typed : entryWords(last.entry, unit),
    value: last.entry.kind === 'value' ? last.entry.value : null,
    band: last.band === null ? null : { ...last.band, unit: unit ?? '', stopAbove, stopBelow },
    verdict: record.verdict,
    dayOne,
    remarks: [
      ...(record.entries.length > 1
        ? [`typed ${record.entries.length} times, first ${record.entries[0]?.typed ?? ''}`]
        : []),
      ...(record.acceptedReason === null ? [] : [`accepted: ${record.acceptedReason}`]),
      ...(record.settled === 'repaired' ? ['repaired, to be read again'] : []),
      ...(record.counts ? [] : ['to be read again']),
    ],
  };
}

/** Readings by the first step that asks for them; what no step asks for comes last. */
function inOrderOfSteps({ kit, facts }: Source): Source['kit']['readings'] {
  const asked = [...new Set(facts.steps.flatMap(readingsOfStep))];
  const place = (id: string): number => (asked.includes(id) ? asked.indexOf(id) : asked.length);
  return kit.readings.toSorted((one, other) => place(one.id) - place(other.id));
}

/** A row with what the good readings of other conditions make one expect; a row without a number stays as it is. */
export function besideOthers(row: ReadingRow, others: Readonly<Record<string, FromOthers>>): ReadingRow {
  const own = others[row.id];
  if (own === undefined || row.shown === null) return row;
  const unit = row.band?.unit ?? '';
  const [low, high] = [own.low, own.high].map((value) => formatQuantity(value, unit, 3));
  return { ...row, remarks: [...row.remarks, `other conditions make one expect ${low} to ${high}`] };
}

/** A number whose unit is not known. */
function plainEntry(entry: MeterEntry): string {
  return entry.kind === 'overload' ? 'OL' : String(entry.value);
}

/** Rows by condition, in the order they come. */
export function byGroup(rows: readonly ReadingRow[]): readonly (readonly [string, readonly ReadingRow[]])[] {
  const groups = new Map<string, ReadingRow[]>();
  for (const each of rows) groups.set(each.group, [...(groups.get(each.group) ?? []), each]);
  return [...groups];
}
