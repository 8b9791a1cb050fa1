import { readingFloors } from '../bands/draw-readings.ts';
import { repeatability } from '../bands/predict-build.ts';
import type { Reading } from '../kit/kit.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import type { BuiltKit } from './fault.ts';
import type { Expectation, FaultModel, HealthyModel } from './fault-model.ts';
import { logSum } from './gaussian.ts';
import { logLikelihood, type Taken, variancesOf } from './likelihood.ts';
import { overlapLimit } from './overlap.ts';
import { pictureCondition } from './picture.ts';
import { elsewhere, type SlipKind } from './slip-readings.ts';
import { type Foreseen, outcomeOverlap } from './suspects-next.ts';

/** A slip of measuring with its probability. */
export interface RankedSlip {
  /** Id of the reading in which the slip was made. */
  readonly reading: string;
  readonly kind: SlipKind;
  readonly words: string;
  /** Other slips that would show the same here. */
  readonly others: readonly { readonly kind: SlipKind; readonly words: string }[];
  /** Of all of them, among slips and faults together, 0 to 1. */
  readonly probability: number;
}

/** What one reading of a healthy amplifier shows when one slip is made in it. */
export interface Slip {
  readonly kind: SlipKind;
  readonly words: string;
  /** In SI units; ∞ is OL. */
  readonly value: number;
  /** One row of factors, and the variance of its own. */
  readonly factors: Float32Array;
  readonly own: number;
  /** What was really measured, for whoever simulates it; null where the same place was. */
  readonly taken: Reading | null;
}

/** How often each slip is made, against each other: common practice, no source. */
const slipPriors: Readonly<Record<SlipKind, number>> = {
  'leads reversed': 2,
  'AC and DC confused': 2,
  'range or unit': 3,
  'hold is on': 1,
  'neighbouring pin or tag': 2,
  'pin counted from above': 2,
  'other section or channel': 2,
  'wrong condition': 1,
  'wrong reference point': 1,
};

/**
 * Share of slips against faults before anything is looked at: of the reading just entered, and of all those before
 * it, which were believed when they were entered. Common practice, no source: measuring again costs nothing.
 */
const slipShares = { last: 0.8, before: 0.05 } as const;

/** Readings farther from their expectation than this may hold a slip, in standard deviations. */
const oddSigmas = 2.3;

/** At most this many readings are tried for a slip. */
const mostOdd = 3;

/** Scatter of readings elsewhere that is not computed: ohms and AC volts, one standard deviation, relative. */
const elsewhereSigma = 0.025;

/** What an AC range shows on DC: nothing but hum, in volts (V). Common practice, no source. */
const humVolts = 0.1;

/** The slips of every reading of a healthy amplifier, made once with the model. */
export function listSlips(model: HealthyModel): readonly (readonly Slip[])[] {
  const places = model.readings.map((reading) => (isOwn(reading) ? elsewhere(model.chosen, reading) : []));
  const rows = valuesElsewhere(
    model,
    places.flatMap((own) => own.map(({ reading }) => reading)),
  );
  const width = model.quantities.length;
  return model.readings.map((reading, index) => {
    const usual = model.healthy.values[index]!;
    if (!isOwn(reading) || Number.isNaN(usual)) return [];
    const row = model.healthy.factors.slice(index * width, (index + 1) * width);
    const others = places[index]!.flatMap(({ kind, words, reading: taken }): readonly Slip[] => {
      const found = rows.get(taken.id);
      return found ? [{ kind, words, taken, ...found }] : [];
    });
    return [...transformed(reading, usual, row, model.healthy.own[index]!), ...others];
  });
}

/** Whether a reading is the kit's own and not one offered by us. */
function isOwn({ id }: Reading): boolean {
  return !id.includes(' ');
}

/** Slips that show the same place otherwise: sign, function, unit. */
function transformed({ measure }: Reading, value: number, row: Float32Array, own: number): readonly Slip[] {
  if (!Number.isFinite(value)) return [];
  const times = (kind: SlipKind, words: string, factor: number): Slip => {
    const factors = row.map((each) => each * factor);
    return { kind, words, taken: null, value: value * factor, factors, own: own * factor ** 2 };
  };
  const units = [
    times('range or unit', 'the range or unit is wrong: a thousand times too little was typed', 1e-3),
    times('range or unit', 'the range or unit is wrong: a thousand times too much was typed', 1e3),
  ];
  if (measure !== 'dc volts') return units;
  const nothing = { value: 0, factors: row.map(() => 0), own: humVolts ** 2, taken: null };
  return [
    times('leads reversed', 'the leads are the wrong way round', -1),
    { kind: 'AC and DC confused', words: 'the meter stands on AC instead of DC', ...nothing },
    ...units,
  ];
}

type Row = Pick<Slip, 'value' | 'factors' | 'own'>;

/** What a healthy amplifier shows at other places, conditions and references. */
function valuesElsewhere(model: HealthyModel, wanted: readonly Reading[]): ReadonlyMap<string, Row> {
  const unique = [...new Map(wanted.map((reading) => [reading.id, reading])).values()];
  const chosen = { ...model.chosen, readings: unique };
  const built: BuiltKit = { chosen, fitted: model.fitted, flaw: {} };
  const width = model.quantities.length;
  const column = new Map(model.quantities.map((name, index) => [name, index]));
  const known = knownRows(model);
  const rows = new Map(
    unique.flatMap((reading): [string, Row][] => {
      const row = known.get(keyOf(model, reading));
      return row ? [[reading.id, row]] : [];
    }),
  );
  for (const id of model.conditions) {
    const own = unique.filter((reading) => reading.in === id && !rows.has(reading.id));
    if (own.length === 0) continue;
    const picture = pictureCondition(built, id, own, model.bench, { depth: 'full' });
    own.forEach(({ id: name, measure }, index) => {
      const value = picture.values[index]!;
      if (Number.isNaN(value)) return;
      const size = Number.isFinite(value) ? value : 0;
      const scatter = measure === 'dc volts' ? 0 : elsewhereSigma * size;
      const alone = readingFloors[measure] ** 2 / 3 + (repeatability * size) ** 2 + scatter ** 2;
      rows.set(name, { value, factors: new Float32Array(width), own: alone });
    });
    model.moves.get(id)?.(
      picture,
      (name, quantity, change) => {
        const place = column.get(quantity);
        const row = rows.get(name);
        if (row && place !== undefined) row.factors[place] = change;
      },
      () => undefined,
    );
    const meter = column.get('meter dc volts') ?? 0;
    const error = model.bench.meter.accuracy.dcVolts / Math.sqrt(3);
    for (const { id: name, measure } of own) {
      const row = rows.get(name);
      if (row && measure === 'dc volts') row.factors[meter] = error * row.value;
    }
  }
  return rows;
}

/** The same two nets, the same way round, measured the same way in the same condition. */
function keyOf({ chosen }: HealthyModel, { at, against, measure, in: condition }: Reading): string {
  return [netOfPlace(chosen, at), netOfPlace(chosen, against), measure, condition].join(' ');
}

/** What the model knows of its own readings: they scatter with everything else in the amplifier. */
function knownRows(model: HealthyModel): ReadonlyMap<string, Row> {
  const { values, factors, own } = model.healthy;
  const width = model.quantities.length;
  return new Map(
    model.readings.flatMap((reading, place): [string, Row][] => {
      const value = values[place]!;
      if (Number.isNaN(value)) return [];
      const row = factors.slice(place * width, (place + 1) * width);
      return [[keyOf(model, reading), { value, factors: row, own: own[place]! }]];
    }),
  );
}

/** What slips have to say about the readings taken. */
export interface SlipAnswer {
  /** Likeliest first. */
  readonly slips: readonly RankedSlip[];
  /** That it is a slip at all, 0 to 1. */
  readonly probability: number;
}

/**
 * The slips that would explain the readings, if the amplifier were healthy and one reading was mistaken.
 *
 * Each slip in each odd reading is one more expectation of all the readings: the healthy one with that row
 * exchanged for what would be shown. It is weighed against all faults together.
 *
 * @param logFaults Logarithm of the likelihood of the readings under all faults, priors in it.
 * @param checked Readings that were looked at again: no slip is sought there.
 */
export function rankSlips(
  model: FaultModel,
  slips: readonly (readonly Slip[])[],
  taken: readonly Taken[],
  logFaults: number,
  checked: ReadonlySet<string> = new Set(),
): SlipAnswer {
  const width = model.quantities.length;
  const priorSum = Object.values(slipPriors).reduce((sum, prior) => sum + prior, 0);
  const odd = oddReadings(model, taken).filter(({ place }) => !checked.has(model.readings[place]!.id));
  const logs = odd.flatMap((entry) =>
    [...(slips[entry.place] ?? []), ...heldValues(model, taken, entry)].map((slip) => ({
      ...{ slip, reading: model.readings[entry.place]!.id },
      log:
        Math.log(
          slipPriors[slip.kind] / priorSum / Math.max(1, countOf(slips[entry.place] ?? [], slip.kind)),
        ) +
        Math.log(entry === taken.at(-1) ? slipShares.last : slipShares.before / mostOdd) +
        logLikelihood(withRow(model.healthy, entry.place, slip, width), model.readings, width, taken),
    })),
  );
  const all = logSum([...logs.map(({ log }) => log), logFaults + Math.log(1 - slipShares.last)]);
  const ranked = groupSlips(
    logs
      .map(({ slip, reading, log }) => ({ slip, reading, probability: Math.exp(log - all) }))
      .toSorted((one, other) => other.probability - one.probability),
  );
  const probability = ranked.reduce((sum, each) => sum + each.probability, 0);
  return { slips: ranked.filter((each) => each.probability >= 0.01), probability };
}

interface WeighedSlip {
  readonly slip: Slip;
  readonly reading: string;
  readonly probability: number;
}

/** Slips of one reading that show the same are one line, likeliest line first. */
function groupSlips(weighed: readonly WeighedSlip[]): readonly RankedSlip[] {
  const groups: { readonly leader: WeighedSlip; readonly others: WeighedSlip[] }[] = [];
  for (const each of weighed) {
    const home = groups.find(
      ({ leader }) =>
        leader.reading === each.reading &&
        outcomeOverlap(outcomeOf(leader.slip), outcomeOf(each.slip)) > overlapLimit,
    );
    if (home) home.others.push(each);
    else groups.push({ leader: each, others: [] });
  }
  return groups
    .map(({ leader: { slip, reading, probability }, others }) => ({
      ...{ reading, kind: slip.kind, words: slip.words },
      others: others.map((each) => ({ kind: each.slip.kind, words: each.slip.words })),
      probability: others.reduce((sum, each) => sum + each.probability, probability),
    }))
    .toSorted((one, other) => other.probability - one.probability);
}

function outcomeOf({ value, factors, own }: Slip): Foreseen {
  return { value, sigma: Math.sqrt(factors.reduce((sum, each) => sum + each * each, own)) };
}

function countOf(slips: readonly Slip[], kind: SlipKind): number {
  return slips.filter((slip) => slip.kind === kind).length;
}

/** Readings that are far from what a healthy amplifier shows, the farthest first. */
function oddReadings(model: FaultModel, taken: readonly Taken[]): readonly Taken[] {
  const variances = variancesOf(model.healthy, model.quantities.length);
  const distance = ({ place, value }: Taken): number => {
    const usual = model.healthy.values[place]!;
    if (!Number.isFinite(usual) || !Number.isFinite(value)) return Object.is(usual, value) ? 0 : Infinity;
    return Math.abs(value - usual) / Math.sqrt(variances[place]!);
  };
  return taken
    .filter((entry) => distance(entry) > oddSigmas)
    .toSorted((one, other) => distance(other) - distance(one))
    .slice(0, mostOdd);
}

/** The display still holds what the reading before showed. */
function heldValues(model: FaultModel, taken: readonly Taken[], entry: Taken): readonly Slip[] {
  const before = taken[taken.indexOf(entry) - 1];
  if (!before) return [];
  if (model.readings[before.place]!.measure !== model.readings[entry.place]!.measure) return [];
  const { value } = before;
  const factors = new Float32Array(model.quantities.length);
  const own = Number.isFinite(value) ? (0.0005 * value) ** 2 + 1e-6 : 0;
  const words = 'the meter holds the reading before this one';
  return [{ kind: 'hold is on', words, value, factors, own, taken: null }];
}

function withRow(healthy: Expectation, place: number, slip: Slip, width: number): Expectation {
  const [values, factors, own] = [healthy.values.slice(), healthy.factors.slice(), healthy.own.slice()];
  values[place] = slip.value;
  factors.set(slip.factors, place * width);
  own[place] = slip.own;
  return { values, factors, own };
}
