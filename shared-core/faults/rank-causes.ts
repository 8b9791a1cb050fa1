import type { FaultName } from './fault.ts';
import type { Expectation, FaultModel, ModelledFault } from './fault-model.ts';
import { covarianceOf, gaussianOf, logDensity, logSum } from './gaussian.ts';
import { logAlone, logLikelihood, type Taken, variancesOf } from './likelihood.ts';
import { logSigns } from './signs.ts';
import { overlapLimit, overlapOf } from './overlap.ts';
import { logBeyond } from './beyond.ts';

/** A cause, or several that the readings so far cannot tell apart. */
export interface Cause {
  /** One name for the group: its likeliest fault in words. */
  readonly group: string;
  readonly faults: readonly RankedFault[];
  /** Among everything that can be wrong, 0 to 1. */
  readonly probability: number;
}

export interface RankedFault extends FaultName {
  readonly words: string;
  readonly probability: number;
}

/** The causes of what was read, likeliest first. */
export interface Ranking {
  readonly causes: readonly Cause[];
  /** Two faults, or something that the model cannot see. */
  readonly beyond: number;
  /** The faults behind the causes, with their probabilities: for the next measurement. */
  readonly suspects: readonly Suspect[];
  /** Logarithm of the likelihood of the readings under everything together, priors in it. */
  readonly log: number;
}

export interface Suspect {
  readonly fault: ModelledFault;
  readonly probability: number;
  /** Place of its cause in the list. */
  readonly cause: number;
}

/** How many faults are looked at with the full covariance. */
const finalists = 80;

/** Faults below this share of the likeliest are not listed. */
const leastShare = 1e-3;

/** Suspects below this are not grouped: they are listed one by one at the end of the list. */
const groupedSuspects = 40;

const alone = new WeakMap<Expectation, { values: Float64Array; variances: Float64Array }>();

function aloneOf(fault: ModelledFault, width: number): { values: Float64Array; variances: Float64Array } {
  const known = alone.get(fault);
  if (known) return known;
  const made = { values: fault.values, variances: variancesOf(fault, width) };
  alone.set(fault, made);
  return made;
}

/**
 * Ranks the single faults by the likelihood of all readings so far.
 *
 * Bayes' rule over the faults: prior × density of the readings under each fault's own expectation and covariance.
 * First every fault is looked at with the readings taken alone and with the healthy covariance, then those that
 * come first in either with their own. Faults whose readings overlap by more than 0.7 are one cause.
 */
export function rankCauses(
  model: FaultModel,
  taken: readonly Taken[],
  signs: readonly string[] = [],
): Ranking {
  const { readings, quantities } = model;
  const width = quantities.length;
  const logs = chooseFinalists(model, taken).map((fault) => ({
    fault,
    log:
      Math.log(fault.prior) +
      logLikelihood(fault, readings, width, taken) +
      logSigns(signs, fault.stress, model.stress),
  }));
  logs.sort((one, other) => other.log - one.log);
  const single = logSum(logs.map(({ log }) => log)) + Math.log(1 - model.priors.beyond);
  const beyondLog = logBeyond(model, taken, logs) + Math.log(model.priors.beyond);
  const all = logSum([single, beyondLog]);
  const beyond = Math.exp(beyondLog - all);
  const kept = logs
    .map(({ fault, log }) => ({
      fault,
      probability: Math.exp(log + Math.log(1 - model.priors.beyond) - all),
    }))
    .filter(({ probability }, index) => index === 0 || probability > leastShare);
  return { ...groupSuspects(model, taken, kept), beyond, log: all };
}

function chooseFinalists(model: FaultModel, taken: readonly Taken[]): readonly ModelledFault[] {
  const { faults, readings, quantities } = model;
  const width = quantities.length;
  const loose = faults.map(
    (fault) => logAlone(aloneOf(fault, width), readings, taken) + Math.log(fault.prior),
  );
  const close = logsByHealthy(model, taken);
  const first = (logs: readonly number[]): readonly number[] =>
    logs
      .map((log, index) => [log, index] as const)
      .toSorted((one, other) => other[0] - one[0])
      .slice(0, finalists / 2)
      .map(([, index]) => index);
  return [...new Set([...first(loose), ...first(close)])].flatMap((index) => faults[index] ?? []);
}

/** Every fault by the distance of the readings from its own, measured with the healthy covariance. */
function logsByHealthy(model: FaultModel, taken: readonly Taken[]): readonly number[] {
  const { healthy, faults, quantities, readings } = model;
  const figures = taken.filter(
    ({ place, value }) => Number.isFinite(healthy.values[place]!) && Number.isFinite(value),
  );
  const places = figures.map(({ place }) => place);
  const covariance = covarianceOf(healthy.factors, healthy.own, quantities.length, places);
  const gaussian = gaussianOf(covariance, places.length);
  const departure = new Float64Array(places.length);
  const others = taken.filter((each) => !figures.includes(each));
  return faults.map((fault) => {
    let missing = 0;
    figures.forEach(({ place, value }, index) => {
      const expected = fault.values[place]!;
      const isFigure = Number.isFinite(expected);
      if (!isFigure) missing -= 3;
      departure[index] = isFigure ? value - expected : 0;
    });
    const odd = logAlone({ values: fault.values, variances: fault.own }, readings, others);
    return logDensity(gaussian, departure) + missing + odd + Math.log(fault.prior);
  });
}

/** Groups what cannot be told apart, likeliest group first. */
function groupSuspects(
  model: FaultModel,
  taken: readonly Taken[],
  kept: readonly { readonly fault: ModelledFault; readonly probability: number }[],
): Pick<Ranking, 'causes' | 'suspects'> {
  const groups: { leader: ModelledFault; members: { fault: ModelledFault; probability: number }[] }[] = [];
  kept.forEach((entry, index) => {
    const home =
      index < groupedSuspects
        ? groups.find(({ leader }) => overlapOf(model, taken, leader, entry.fault) > overlapLimit)
        : undefined;
    if (home) home.members.push(entry);
    else groups.push({ leader: entry.fault, members: [entry] });
  });
  const sized = groups
    .map((group) => ({
      ...group,
      probability: group.members.reduce((sum, { probability }) => sum + probability, 0),
    }))
    .toSorted((one, other) => other.probability - one.probability);
  return {
    causes: sized.map(({ members, probability }) => {
      const faults = members.flatMap(namesOf);
      return { group: faults[0]?.words ?? '', faults, probability };
    }),
    suspects: sized.flatMap(({ members }, cause) => members.map((member) => ({ ...member, cause }))),
  };
}

/** The faults of one circuit share its probability as their priors do. */
function namesOf({ fault, probability }: { fault: ModelledFault; probability: number }): RankedFault[] {
  const { faults } = fault.fault;
  return faults.map(({ part, kind, words }) => ({
    ...{ part, kind, words },
    probability: probability / faults.length,
  }));
}
