import type { Taken } from '../../shared-core/faults/likelihood.ts';
import { nextMeasurement } from '../../shared-core/faults/next-measurement.ts';
import { overlapLimit, overlapOf } from '../../shared-core/faults/overlap.ts';
import { rankCauses, type Ranking } from '../../shared-core/faults/rank-causes.ts';
import { rankSlips, type Slip } from '../../shared-core/faults/slips.ts';
import { type SlipKind, slipKinds } from '../../shared-core/faults/slip-readings.ts';
import { normalDraw, seededRandom } from '../../shared-core/numerics/random.ts';
import { pictureCondition } from '../../shared-core/faults/picture.ts';
import { drawFault, drawFaulty, type FaultSubject, isFlagged, takenOf } from './explain.study.ts';
import { drawWorlds, showOnMeter, solveBuild } from './fault-builds.ts';

/** How many further readings it took to a cause of 95 %. */
export interface NextFigures {
  readonly builds: number;
  /** Mean number with the next measurement, and in the kit's own order. */
  readonly chosen: number;
  readonly fixed: number;
}

/** A group that everything measurable leaves together holds this much. */
const enough = 0.95;

/** Readings after which either way is given up; both count that many. */
const mostFurther = 40;

/** On the same builds: from the first reading that is not healthy on, to a group that holds 95 %. */
export function studyNext(subject: FaultSubject, builds: number, seed: number): NextFigures {
  const { model } = subject.ready;
  const random = seededRandom(seed);
  const counts = { builds: 0, chosen: 0, fixed: 0 };
  while (counts.builds < builds) {
    const index = drawFault(subject, random);
    const values = drawFaulty(subject, model.faults[index]!.fault.built, random);
    if (!subject.visible[index]!.all) continue;
    const order = takenOf(values, subject.places);
    const from = order.findIndex((_, last) => isOut(subject, order[last]!));
    if (from < 0) continue;
    const start = order.slice(0, from + 1);
    counts.builds += 1;
    counts.fixed += further(subject, start, (taken) => order[taken.length] ?? null);
    counts.chosen += further(subject, start, (taken, ranking) => {
      const last = model.readings[taken.at(-1)!.place]!.in;
      const step = nextMeasurement(model, ranking, taken, { condition: last });
      const place = model.readings.findIndex(({ id }) => id === step?.reading);
      return place < 0 || Number.isNaN(values[place]!) ? null : { place, value: values[place]! };
    });
  }
  return { builds, chosen: counts.chosen / builds, fixed: counts.fixed / builds };
}

/** Whether a reading by itself is not as in a healthy amplifier. */
function isOut({ gateOf }: FaultSubject, { place, value }: Taken): boolean {
  return !gateOf([place]).judge([value]).healthy;
}

function further(
  subject: FaultSubject,
  start: readonly Taken[],
  next: (taken: readonly Taken[], ranking: Ranking) => Taken | null,
): number {
  const taken = [...start];
  for (let count = 0; count < mostFurther; count += 1) {
    const ranking = rankCauses(subject.ready.model, taken);
    if (isKnown(subject, ranking)) return count;
    const step = next(taken, ranking);
    if (!step) return count;
    taken.push(step);
  }
  return mostFurther;
}

/** Whether the faults that nothing measurable tells from the likeliest one hold 95 %. */
function isKnown({ ready: { model } }: FaultSubject, ranking: Ranking): boolean {
  const suspects = ranking.suspects.toSorted((one, other) => other.probability - one.probability);
  const [leader] = suspects;
  if (!leader) return false;
  const all = model.readings.map((_, place) => ({ place }));
  let held = leader.probability;
  for (const { fault, probability } of suspects.slice(1)) {
    if (held >= enough) return true;
    if (probability < 0.002) break;
    if (overlapOf(model, all, leader.fault, fault) > overlapLimit) held += probability;
  }
  return held >= enough;
}

/** What slips of one kind came to. */
export interface SlipFigures {
  readonly kind: SlipKind;
  readonly made: number;
  /** Share that leaves the reading inside its band: it cannot show. */
  readonly unseen: number;
  /** Of those that can show: the right kind, or one that shows the same, named first and before every fault. */
  readonly named: number;
}

/** Healthy builds with one slip each, of the kit's own readings taken up to then. */
export function studySlips(subject: FaultSubject, each: number, seed: number): readonly SlipFigures[] {
  const { model, slips } = subject.ready;
  const random = seededRandom(seed);
  return slipKinds.map((kind) => {
    const counts = { made: 0, unseen: 0, seen: 0, named: 0 };
    for (let attempt = 0; counts.made < each && attempt < each * 3; attempt += 1) {
      const worldIn = drawWorlds(model, random);
      const healthy = { chosen: model.chosen, fitted: model.fitted, flaw: {} };
      const shown = showOnMeter(model, solveBuild(model, healthy, worldIn), random);
      const able = subject.places.filter((place, order) => canSlip(subject, slips[place]!, kind, order));
      const place = able[Math.floor(random() * able.length)];
      if (place === undefined) break;
      const order = subject.places.indexOf(place);
      const value = slipValue(subject, place, kind, shown, worldIn, random);
      if (value === null) continue;
      counts.made += 1;
      const taken = takenOf(shown, subject.places.slice(0, order + 1)).slice(0, -1);
      const entry = { place, value };
      if (!isOut(subject, entry)) {
        counts.unseen += 1;
        continue;
      }
      counts.seen += 1;
      if (firstSlips(subject, [...taken, entry]).includes(kind)) counts.named += 1;
    }
    return {
      ...{ kind, made: counts.made, unseen: counts.unseen / Math.max(1, counts.made) },
      named: counts.named / Math.max(1, counts.seen),
    };
  });
}

function canSlip(
  { ready: { model }, places }: FaultSubject,
  slips: readonly Slip[],
  kind: SlipKind,
  order: number,
): boolean {
  if (kind !== 'hold is on') return slips.some((slip) => slip.kind === kind);
  const [before, own] = [places[order - 1], places[order]].map((place) => model.readings[place ?? -1]);
  return before !== undefined && before.measure === own?.measure;
}

/** What the meter shows with the slip, in this very amplifier; null where the slip is of another kind after all. */
function slipValue(
  { ready: { model, slips }, places }: FaultSubject,
  place: number,
  kind: SlipKind,
  shown: Float64Array,
  worldIn: (id: string) => Readonly<Record<string, number>>,
  random: () => number,
): number | null {
  const usual = shown[place]!;
  if (kind === 'hold is on') return shown[places[places.indexOf(place) - 1]!] ?? null;
  const own = slips[place]!.filter((slip) => slip.kind === kind);
  const slip = own[Math.floor(random() * own.length)];
  if (!slip) return null;
  if (slip.taken) {
    const chosen = { ...model.chosen, readings: [slip.taken] };
    const built = { chosen, fitted: model.fitted, flaw: worldIn(slip.taken.in) };
    const picture = pictureCondition(built, slip.taken.in, [slip.taken], model.bench, { depth: 'full' });
    const value = picture.values[0]!;
    return Number.isNaN(value) ? null : value * (1 + 0.003 * (2 * random() - 1)) + 0.05 * (2 * random() - 1);
  }
  if (kind === 'AC and DC confused') return 0.1 * Math.abs(normalDraw(random));
  return kind === 'leads reversed' ? -usual : (usual * slip.value) / model.healthy.values[place]!;
}

/** The kinds of the slip that is named first, with those that show the same; none where a fault comes before. */
export function firstSlips(
  { ready: { model, slips } }: FaultSubject,
  taken: readonly Taken[],
): readonly SlipKind[] {
  const answer = rankSlips(model, slips, taken, rankCauses(model, taken).log);
  const [first] = answer.slips;
  return first && answer.probability > 0.5 ? [first.kind, ...first.others.map(({ kind }) => kind)] : [];
}

/** Share of flagged single faults that are taken for a slip at the first reading that shows them. */
export function studyMistaken(subject: FaultSubject, builds: number, seed: number): number {
  const { model } = subject.ready;
  const random = seededRandom(seed);
  let [shown, mistaken] = [0, 0];
  for (let build = 0; build < builds; build += 1) {
    const index = drawFault(subject, random);
    const values = drawFaulty(subject, model.faults[index]!.fault.built, random);
    if (!subject.visible[index]!.all) continue;
    const taken = takenOf(values, subject.places);
    if (!isFlagged(subject, taken)) continue;
    shown += 1;
    if (firstSlips(subject, taken).length > 0) mistaken += 1;
  }
  return mistaken / Math.max(1, shown);
}
