import { type ConditionBands, computeBands } from '../bands/predict-bands.ts';
import { joinReadings } from '../bands/predict-build.ts';
import { SampleBook } from '../bands/sample-book.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { healthyFactors, ownVariances } from './factors.ts';
import type { BuiltKit } from './fault.ts';
import {
  expectBuilt,
  type FaultModel,
  gather,
  type HealthyModel,
  liveOf,
  type ModelledFault,
  ownReadings,
} from './fault-model.ts';
import { type FaultPriors, plainPriors, priorOf } from './fault-priors.ts';
import { type FaultCase, listFaultCases } from './list-faults.ts';
import { measurableKit } from './measurable.ts';
import { mergeAlike } from './merge-alike.ts';
import { openMoves, trustMoves } from './moves.ts';
import { pictureCondition, scalePulses } from './picture.ts';
import { stressOf } from './signs.ts';
import { listSlips, type Slip } from './slips.ts';

/** Healthy builds behind the limit of the gate. */
const gateBuilds = 20000;

/** Seed of the draws, the same as that of the bands. */
const modelSeed = 1;

/** Faults computed in one turn: some tenths of a second. */
const faultsPerTurn = 16;

/** A model ready for use, with the slips of every reading. */
export interface ReadyModel {
  readonly model: FaultModel;
  /** Of each reading of the model. */
  readonly slips: readonly (readonly Slip[])[];
}

/** How far the work has come, in turns. */
export interface ModellingTurn {
  readonly done: number;
  readonly of: number;
}

/**
 * Builds the fault model of a kit on a bench, a turn at a time, so that other work gets in between.
 *
 * First the bands of each condition, then how all readings go together and the slips, then the faults, a few in
 * each turn. Stop taking turns to give it up.
 */
export class FaultModelling {
  readonly #chosen: ChosenKit;
  readonly #bench: Bench;
  readonly #fitted: Fitted;
  readonly #priors: FaultPriors;
  readonly #book: SampleBook;
  readonly #conditions: readonly string[];
  readonly #bands: ConditionBands[] = [];
  readonly #faults: ModelledFault[] = [];
  #visited = 0;
  #healthy: HealthyModel | null = null;
  #slips: readonly (readonly Slip[])[] = [];
  #cases: readonly FaultCase[] = [];
  #ready: ReadyModel | null = null;

  constructor(
    chosen: ChosenKit,
    bench: Bench,
    fitted: Fitted,
    {
      priors = plainPriors,
      builds = gateBuilds,
    }: { readonly priors?: FaultPriors; readonly builds?: number } = {},
  ) {
    this.#chosen = dropUnseen(measurableKit(chosen), bench, fitted);
    this.#bench = bench;
    this.#fitted = fitted;
    this.#priors = priors;
    this.#book = new SampleBook(modelSeed, builds);
    this.#conditions = [...new Set(this.#chosen.readings.map((reading) => reading.in))];
  }

  /** The finished model; null as long as turns are left. */
  get ready(): ReadyModel | null {
    return this.#ready;
  }

  /** The healthy side, where it is done. */
  get healthy(): HealthyModel | null {
    return this.#healthy;
  }

  turn(): ModellingTurn {
    const before = this.#conditions.length + 1;
    const chunks = Math.ceil(this.#cases.length / faultsPerTurn);
    const of = before + (this.#healthy ? chunks : this.#conditions.length);
    if (this.#ready) return { done: of, of };
    if (this.#visited < this.#conditions.length) {
      const id = this.#conditions[this.#visited] ?? '';
      const bands = computeBands(this.#chosen, id, this.#bench, this.#fitted, this.#book);
      if (bands) this.#bands.push(bands);
      this.#visited += 1;
      return { done: this.#visited, of };
    }
    if (!this.#healthy) {
      this.#healthy = openHealthy(
        this.#chosen,
        this.#bands,
        this.#bench,
        this.#fitted,
        this.#priors,
        this.#book,
      );
      this.#slips = listSlips(this.#healthy);
      this.#cases = listFaultCases({ chosen: this.#chosen, fitted: this.#fitted, flaw: {} });
      return { done: before, of };
    }
    const next = this.#cases.slice(this.#faults.length, this.#faults.length + faultsPerTurn);
    for (const fault of next) this.#faults.push(modelFault(this.#healthy, fault));
    if (this.#faults.length === this.#cases.length) {
      this.#ready = {
        model: { ...this.#healthy, faults: withBetween(weigh(this.#faults), this.#healthy) },
        slips: this.#slips,
      };
    }
    return { done: before + Math.ceil(this.#faults.length / faultsPerTurn), of };
  }

  /** All turns at once. */
  finish(): ReadyModel {
    for (;;) {
      if (this.#ready) return this.#ready;
      this.turn();
    }
  }
}

/** A fault with its weight in place of its chance. */
function modelFault(healthy: HealthyModel, fault: FaultCase): ModelledFault {
  const prior = fault.faults.reduce((sum, each) => sum + priorOf(healthy.priors, each), 0);
  return { fault, prior, ...expectBuilt(healthy, fault.built) };
}

/** Weights as chances that add up to 1, and what nothing tells apart as one. */
function weigh(faults: readonly ModelledFault[]): readonly ModelledFault[] {
  const all = faults.reduce((sum, { prior }) => sum + prior, 0);
  return mergeAlike(faults.map((fault) => ({ ...fault, prior: fault.prior / all })));
}

/** Of wrong values this share lies between those that the list has. */
const betweenShare = 0.25;

/** How far such a value may lie from one of the list: part of what the fault moves, one standard deviation. */
const betweenSigma = 0.4;

/**
 * Wrong values a second time, each with its severity as one more quantity that scatters: what lies between ×3 and
 * ×10 moves the same readings in about the same proportion.
 */
function withBetween(faults: readonly ModelledFault[], healthy: HealthyModel): readonly ModelledFault[] {
  const width = healthy.quantities.length;
  return faults.flatMap((fault) => {
    if (!fault.fault.faults.some(({ sort }) => sort === 'wrong value')) return [fault];
    const factors = fault.factors.slice();
    healthy.readings.forEach((_, place) => {
      const move = fault.values[place]! - healthy.healthy.values[place]!;
      if (Number.isFinite(move)) factors[(place + 1) * width - 1] = betweenSigma * move;
    });
    return [
      { ...fault, prior: (1 - betweenShare) * fault.prior },
      { ...fault, prior: betweenShare * fault.prior, factors },
    ];
  });
}

/** The healthy side of a model: everything but the faults. */
function openHealthy(
  measurable: ChosenKit,
  bands: readonly ConditionBands[],
  bench: Bench,
  fitted: Fitted,
  priors: FaultPriors,
  book: SampleBook,
): HealthyModel {
  const { readings } = measurable;
  const conditions = [...new Set(readings.map((reading) => reading.in))];
  const joint = joinReadings(bands, bench, book);
  const place = new Map(joint.ids.map((id, index) => [id, index]));
  const built: BuiltKit = { chosen: measurable, fitted, flaw: {} };
  const quantities = listQuantities(bands, conditions);
  const pulses = new Map(conditions.map((id) => [id, scalePulses(built, id, bench)]));
  const pictures = conditions.map((id) =>
    pictureCondition(built, id, ownReadings(readings, id), bench, { pulses: pulses.get(id) }),
  );
  const quick = gather(readings, pictures);
  const values = quick.map((value, index) => {
    const column = place.get(readings[index]?.id ?? '');
    if (column !== undefined) return joint.centre[column] ?? Number.NaN;
    return value === Infinity ? Infinity : Number.NaN;
  });
  const factors = healthyFactors(bands, readings, quantities, bench, values);
  const row = new Map(readings.map(({ id }, index) => [id, index]));
  const column = new Map(quantities.map((name, index) => [name, index]));
  const changeOf = (reading: string, quantity: string, condition: string): number => {
    const at = (row.get(reading) ?? 0) * quantities.length;
    const own = factors[at + (column.get(quantity) ?? 0)] ?? 0;
    // The mains is split between what all conditions have in common and what each has of its own.
    const anew = quantity === 'mains' ? (factors[at + (column.get(`mains in ${condition}`) ?? 0)] ?? 0) : 0;
    return anew === 0 ? own : Math.sign(own || anew) * Math.hypot(own, anew);
  };
  const moves = new Map(
    conditions.map((id, index) => {
      const picture = pictures[index]!;
      const moved = openMoves(picture, bandsOf(bands, id));
      return [id, trustMoves(moved, picture, (reading, quantity) => changeOf(reading, quantity, id))];
    }),
  );
  return {
    ...{
      chosen: measurable,
      bench,
      fitted,
      priors,
      readings,
      quantities,
      joint,
      conditions,
      quick,
      moves,
      pulses,
    },
    spreads: [
      ...new Map(bands.flatMap(({ spreads }) => spreads.map((each) => [each.quantity, each]))).values(),
    ],
    healthy: { values, factors, own: ownVariances(readings, values, values) },
    stress: stressOf(pictures, liveOf(measurable, conditions)),
    builds: readings.map(({ id }) => joint.healthy[place.get(id) ?? -1] ?? null),
  };
}

function bandsOf(bands: readonly ConditionBands[], id: string): ConditionBands | undefined {
  return bands.find(({ prediction }) => prediction.condition === id);
}

/** Offers of our own that show nothing in a sound amplifier are not worth their time. */
function dropUnseen(measurable: ChosenKit, bench: Bench, fitted: Fitted): ChosenKit {
  const cold = measurable.conditions.find(({ supply }) => supply === 'unplugged');
  if (!cold) return measurable;
  const own = ownReadings(measurable.readings, cold.id);
  const { values } = pictureCondition({ chosen: measurable, fitted, flaw: {} }, cold.id, own, bench);
  const unseen = new Set(
    own.flatMap(({ id }, index) => (id.endsWith(' ohms') && !Number.isFinite(values[index]) ? [id] : [])),
  );
  return { ...measurable, readings: measurable.readings.filter(({ id }) => !unseen.has(id)) };
}

function listQuantities(bands: readonly ConditionBands[], conditions: readonly string[]): readonly string[] {
  const names = new Set(bands.flatMap(({ spreads }) => spreads.map(({ quantity }) => quantity)));
  return [
    ...names,
    ...conditions.map((id) => `mains in ${id}`),
    ...['dc volts', 'ac volts', 'ohms', 'gain'].map((measure) => `meter ${measure}`),
    // Last: how far a wrong value is off.
    'severity',
  ];
}
