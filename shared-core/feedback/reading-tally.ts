import type { Verdict } from '../bands/verdict.ts';
import type { ReadingEntryRecord, ReadingRecord } from '../journal/build-state.ts';
import type { RecordReading } from '../journal/build-record.ts';
import type { ShownBand } from '../safety/events.ts';
import { NameCounts, shortened } from './bounded.ts';
import { CovariateTally } from './covariate-tally.ts';
import type { Covariates } from './covariates.ts';
import { Tally } from './tally.ts';

/** Standard deviations of a normal law from its middle to the 1 % and 99 % points, the edges of a band. */
export const bandSigmas = 2.3263;

/** Reasons kept of those given for accepting a reading. */
const mostReasons = 50;

/**
 * Where a value lies in the band that was shown for it, in standard deviations from the band's middle.
 *
 * The band is the 1–99 % one, 4.653 deviations wide. So readings on another mains, with another meter or another
 * valve become comparable: each is measured by what was expected of it.
 *
 * @returns Null without a band of two ends.
 */
export function bandDeviation(value: number, band: ShownBand | null): number | null {
  if (band === null || band.low === null || band.high === null || !(band.high > band.low)) return null;
  const deviation = (value - (band.low + band.high) / 2) / ((band.high - band.low) / (2 * bandSigmas));
  return Number.isFinite(deviation) ? deviation : null;
}

/**
 * What all builders read at one place, in a fixed amount of memory.
 *
 * Of each build the first number typed counts, as soon as the amplifier was warm: it is the one that no later
 * repair has touched.
 */
export class ReadingTally {
  readonly reading: RecordReading;
  /** First numbers, in the reading's SI unit. */
  readonly values = new Tally();
  /** First numbers by their band, in standard deviations. */
  readonly deviations = new Tally();
  /** Verdicts on the first numbers. */
  readonly verdicts = new Map<Verdict, number>();
  readonly byCovariate = new CovariateTally();
  /** Sum over the builds of where nominal stood in the band, in standard deviations from its middle. */
  nominals = 0;
  readonly reasons = new NameCounts(mostReasons);
  taken = 0;
  overloads = 0;
  /** First numbers whose band had been on screen before. */
  shownBefore = 0;
  /** Builds in which the first number was not the last. */
  again = 0;
  accepted = 0;
  /** Builds that ever read past the stop limit. */
  stops = 0;

  constructor(reading: RecordReading) {
    this.reading = reading;
  }

  /** @param by 1 counts a build's reading, −1 takes it out again. */
  count(record: ReadingRecord, covariates: Covariates, by: 1 | -1): void {
    const first = firstWarm(record);
    if (first === undefined) return;
    this.taken += by;
    this.verdicts.set(first.verdict, (this.verdicts.get(first.verdict) ?? 0) + by);
    if (first.bandShownBefore) this.shownBefore += by;
    if (record.entries.length > 1) this.again += by;
    if (record.entries.some(({ verdict }) => verdict === 'stop')) this.stops += by;
    if (record.acceptedReason !== null) {
      this.accepted += by;
      this.reasons.add(shortened(record.acceptedReason), by);
    }
    if (first.entry.kind === 'overload') {
      this.overloads += by;
      return;
    }
    put(this.values, first.entry.value, by);
    const deviation = bandDeviation(first.entry.value, first.band);
    if (deviation === null) return;
    put(this.deviations, deviation, by);
    this.nominals += by * (bandDeviation(first.band?.nominal ?? Number.NaN, first.band) ?? 0);
    const shown = first.bandShownBefore ? 'shown before' : 'not shown before';
    this.byCovariate.count([...covariates, ['band', shown]], deviation, by);
  }
}

/** The first number typed once the amplifier was warm. */
export function firstWarm({ entries }: Pick<ReadingRecord, 'entries'>): ReadingEntryRecord | undefined {
  return entries.find(({ verdict }) => verdict !== 'still warming') ?? entries[0];
}

function put(tally: Tally, value: number, by: 1 | -1): void {
  if (by === 1) tally.add(value);
  else tally.remove(value);
}
