import type { Reading } from '../kit/kit.ts';
import { partIdOf } from '../kit/places.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { FaultModel } from './fault-model.ts';
import type { Taken } from './likelihood.ts';
import type { Ranking, Suspect } from './rank-causes.ts';
import { exchangeActions } from './exchange-action.ts';
import type { NextStep, Outcome } from './next-step.ts';
import { type Foreseen, informationOf, openForesight } from './suspects-next.ts';

/** Suspects that the next step is chosen for. */
const mostSuspects = 40;

/** What a step costs, against a cold reading: drained and dead, nothing can go wrong. Common practice, no source. */
const costs = { cold: 1, live: 2, newCondition: 3, action: 4 } as const;

/** A condition in which nothing can be predicted under this share of the suspects is not offered: it may be a short. */
const mostUnpredicted = 0.05;

/** Less than this is not worth a measurement, in nats. */
const leastInformation = 0.02;

/** Where the builder stands. */
export interface Standing {
  /** The condition of the last reading; null when dead. */
  readonly condition: string | null;
  /** Readings and actions that are not to be offered: done, refused, out of reach. */
  readonly without?: ReadonlySet<string>;
}

/**
 * The next measurement, by what it tells for what it costs.
 *
 * Everything measurable is looked at under every suspect; the mutual information of the outcome and the suspects is
 * divided by a cost in which cold readings come first. In a live condition only tags and controls are offered
 * besides the kit's own readings, and none where a suspect makes the outcome unpredictable: that may be a short.
 *
 * @returns Null where nothing left tells the causes apart.
 */
export function nextMeasurement(
  model: FaultModel,
  ranking: Ranking,
  taken: readonly Taken[],
  standing: Standing,
): NextStep | null {
  const suspects = ranking.suspects
    .toSorted((one, other) => other.probability - one.probability)
    .slice(0, mostSuspects);
  const all = suspects.reduce((sum, { probability }) => sum + probability, 0);
  const chances = suspects.map(({ probability }) => probability / all);
  const foresights = suspects.map((suspect) => openForesight(model, taken, suspect));
  const done = new Set(taken.map(({ place }) => place));
  const isBarred = barredConditions(model, suspects, chances);
  let best: { place: number; outcomes: readonly Foreseen[]; information: number; score: number } | null =
    null;
  for (const [place, reading] of model.readings.entries()) {
    if (done.has(place) || standing.without?.has(reading.id) || !isOffered(model, reading, isBarred))
      continue;
    const outcomes = foresights.map((foresee) => foresee(place));
    const information = informationOf(chances, outcomes);
    const score = information / costOf(model, reading, standing);
    if (information >= leastInformation && score > (best?.score ?? 0)) {
      best = { place, outcomes, information, score };
    }
  }
  const [action] = exchangeActions(model, suspects, chances)
    .filter(({ id }) => !standing.without?.has(id))
    .toSorted((one, other) => other.information - one.information);
  if (
    action &&
    action.information >= leastInformation &&
    action.information / costs.action > (best?.score ?? 0)
  ) {
    return action.step;
  }
  if (!best) return null;
  return describe(model, suspects, chances, best);
}

function costOf({ chosen }: FaultModel, reading: Reading, { condition }: Standing): number {
  const supply = chosen.conditions.find(({ id }) => id === reading.in)?.supply;
  if (supply === 'unplugged') return costs.cold;
  return reading.in === condition ? costs.live : costs.newCondition;
}

/** Conditions that a likely enough suspect makes unpredictable. */
function barredConditions(
  { readings, healthy }: FaultModel,
  suspects: readonly Suspect[],
  chances: readonly number[],
): (condition: string) => boolean {
  const barred = new Map<string, number>();
  suspects.forEach(({ fault }, index) => {
    const lost = new Set(
      readings.flatMap((reading, place) =>
        Number.isNaN(fault.values[place]!) && !Number.isNaN(healthy.values[place]!) ? [reading.in] : [],
      ),
    );
    for (const id of lost) barred.set(id, (barred.get(id) ?? 0) + (chances[index] ?? 0));
  });
  return (condition) => (barred.get(condition) ?? 0) > mostUnpredicted;
}

function isOffered(model: FaultModel, reading: Reading, isBarred: (condition: string) => boolean): boolean {
  const { chosen, own } = { chosen: model.chosen, own: !reading.id.includes(' ') };
  const condition = chosen.conditions.find(({ id }) => id === reading.in);
  if (!condition) return false;
  if (condition.supply === 'unplugged') return true;
  if (isBarred(reading.in)) return false;
  const kind = chosen.parts.find(({ id }) => id === partIdOf(reading.at))?.kind;
  return own || kind === 'tag-strip' || kind === 'potentiometer';
}

function describe(
  model: FaultModel,
  suspects: readonly Suspect[],
  chances: readonly number[],
  best: { readonly place: number; readonly outcomes: readonly Foreseen[]; readonly information: number },
): NextStep {
  const reading = model.readings[best.place]!;
  const condition = model.chosen.conditions.find(({ id }) => id === reading.in);
  const isCold = condition?.supply === 'unplugged';
  const where = `${reading.title}: ${reading.at} against ${reading.against}`;
  const outcomes = listOutcomes(suspects, chances, best.outcomes, reading);
  const [first, second] = outcomes;
  const why =
    first && second
      ? `${first.shows}: ${first.means[0] ?? 'nothing'}; ${second.shows}: ${second.means[0] ?? 'nothing'}.`
      : 'It narrows the causes down.';
  return {
    ...{
      place: reading.at,
      measure: reading.measure,
      condition: reading.in,
      reading: reading.id,
      outcomes,
      why,
    },
    action: isCold
      ? `Pull the plug and prove every store empty. Then measure ohms, ${where}.`
      : `Measure ${reading.measure} in the condition ${condition?.title ?? reading.in}, ${where}.`,
    information: best.information,
  };
}

/** Outcomes that can be told apart, each with the causes that lead to it, likeliest outcome first. */
function listOutcomes(
  suspects: readonly Suspect[],
  chances: readonly number[],
  foreseen: readonly Foreseen[],
  reading: Reading,
): readonly Outcome[] {
  const clusters: { members: number[]; middle: Foreseen }[] = [];
  const order = suspects.map((_, index) => index).toSorted((one, other) => chances[other]! - chances[one]!);
  for (const index of order) {
    const own = foreseen[index]!;
    const home = clusters.find(({ middle }) => isNear(middle, own));
    if (home) home.members.push(index);
    else clusters.push({ members: [index], middle: own });
  }
  return clusters
    .map(({ members, middle }) => ({
      shows: showsOf(reading, middle),
      means: [...new Set(members.flatMap((index) => suspects[index]!.fault.fault.faults[0]?.words ?? []))],
      probability: members.reduce((sum, index) => sum + chances[index]!, 0),
    }))
    .toSorted((one, other) => other.probability - one.probability);
}

function isNear(one: Foreseen, other: Foreseen): boolean {
  if (!Number.isFinite(one.value) || !Number.isFinite(other.value)) return Object.is(one.value, other.value);
  return Math.abs(one.value - other.value) <= 3 * Math.hypot(one.sigma, other.sigma);
}

function showsOf({ measure }: Reading, { value }: Foreseen): string {
  if (Number.isNaN(value)) return 'anything';
  if (value === Infinity) return 'OL';
  if (measure === 'gain') return `a gain of about ${value.toPrecision(2)}`;
  const size = Math.abs(value);
  if (measure !== 'ohms') return size < 0.1 ? 'about 0 V' : `about ${formatQuantity(value, 'V', 2)}`;
  return size < 1 ? 'about 0 Ω' : `about ${formatQuantity(value, 'Ω', 2)}`;
}
