import { openBuildScale } from '../../shared-core/bands/judge-build.ts';
import type { SolveDepth } from '../../shared-core/prediction/condition-model.ts';
import { type MadeBuild, type Models, openBuilds, type Subject } from './builds.ts';
import { kitFaults, type SingleFault } from './faults.ts';

/** What a population of healthy builds came to. */
export interface HealthyFigures {
  readonly models: Models;
  readonly builds: number;
  readonly depth: SolveDepth;
  /** Share of builds inside the 0.1–99.9 % band of each reading. */
  readonly inside: Readonly<Record<string, number>>;
  /** Share of healthy builds called unhealthy by the whole-build verdict. */
  readonly wholeAlarms: number;
  /** Share of healthy builds with any reading outside its band, and outside ±10 % and ±20 % of nominal. */
  readonly anyOutside: number;
  readonly anyBeyond10: number;
  readonly anyBeyond20: number;
}

/** What faulty builds came to; shares of those whose fault moves some reading by more than 3 sd. */
export interface FaultyFigures {
  readonly models: Models;
  readonly faults: number;
  readonly visible: number;
  readonly builds: number;
  readonly flagged: number;
  readonly byBands: number;
  readonly byWhole: number;
  readonly by10: number;
  readonly by20: number;
  /** Visible faults that were missed most, with their share of flagged builds. */
  readonly hardest: readonly (readonly [string, number])[];
}

/** A fault counts as visible where it moves some reading by more than this, in standard deviations. */
const visibleSigmas = 3;

/** How one build is seen by each way of judging. */
interface Sight {
  readonly whole: boolean;
  readonly bands: boolean;
  readonly beyond10: boolean;
  readonly beyond20: boolean;
}

/** Judges healthy builds. */
export function studyHealthy(
  subject: Subject,
  models: Models,
  builds: number,
  seed: number,
  depth: SolveDepth = 'band',
): HealthyFigures {
  const maker = openBuilds(subject, models, seed, subject.chosen, {}, depth);
  const look = openEyes(subject);
  const outside = new Map(subject.readings.map(({ id }) => [id, 0]));
  const counts = { whole: 0, bands: 0, beyond10: 0, beyond20: 0 };
  for (let build = 0; build < builds; build++) {
    const made = maker.next();
    for (const [index, { id }] of subject.readings.entries()) {
      if (isOutside(subject, made.shown, index)) outside.set(id, outside.get(id)! + 1);
    }
    const sight = look(made);
    for (const key of ['whole', 'bands', 'beyond10', 'beyond20'] as const) counts[key] += sight[key] ? 1 : 0;
  }
  return {
    ...{ models, builds, depth },
    inside: Object.fromEntries([...outside].map(([id, count]) => [id, 1 - count / builds])),
    wholeAlarms: counts.whole / builds,
    anyOutside: counts.bands / builds,
    anyBeyond10: counts.beyond10 / builds,
    anyBeyond20: counts.beyond20 / builds,
  };
}

/** Judges builds with one single fault each. */
export function studyFaulty(
  subject: Subject,
  models: Models,
  buildsPerFault: number,
  seed: number,
  choose: (fault: SingleFault, index: number) => boolean = () => true,
): FaultyFigures {
  const look = openEyes(subject);
  const faults = kitFaults(subject.chosen).filter(choose);
  const visible = faults.filter((fault) => isVisible(subject, fault));
  const totals = { flagged: 0, byBands: 0, byWhole: 0, by10: 0, by20: 0 };
  const shares = visible.map(({ title, kit, flaw }, index) => {
    const maker = openBuilds(subject, models, seed + index, kit, flaw);
    let flagged = 0;
    for (let build = 0; build < buildsPerFault; build++) {
      const sight = look(maker.next());
      if (sight.bands || sight.whole) flagged++;
      if (sight.bands) totals.byBands++;
      if (sight.whole) totals.byWhole++;
      if (sight.beyond10) totals.by10++;
      if (sight.beyond20) totals.by20++;
    }
    totals.flagged += flagged;
    return [title, flagged / buildsPerFault] as const;
  });
  const builds = visible.length * buildsPerFault;
  const share = (count: number): number => count / Math.max(1, builds);
  return {
    ...{ models, faults: faults.length, visible: visible.length, builds },
    ...{ flagged: share(totals.flagged), byBands: share(totals.byBands), byWhole: share(totals.byWhole) },
    ...{ by10: share(totals.by10), by20: share(totals.by20) },
    hardest: [...shares].sort((one, other) => one[1] - other[1]).slice(0, 12),
  };
}

/** Whether the fault moves some reading of the nominal amplifier by more than 3 sd, or to or from OL. */
function isVisible(subject: Subject, { kit, flaw }: SingleFault): boolean {
  const { joint } = subject;
  const quiet = { ...subject, spreads: subject.spreads.map((each) => ({ ...each, low: 0, high: 0 })) };
  const { shown } = openBuilds(quiet, 'band', 1, kit, flaw).next();
  const sound = openBuilds(quiet, 'band', 1).next().shown;
  return subject.readings.some(({ measure }, index) => {
    if (Number.isNaN(shown[index])) return measure === 'ohms';
    const sigma = Math.sqrt(joint.covariance[index]![index]!);
    return Math.abs(shown[index]! - sound[index]!) > visibleSigmas * sigma;
  });
}

/** A reading without a figure counts against a build where it is OL, else it says nothing. */
function openEyes(subject: Subject): (made: MadeBuild) => Sight {
  const { joint, readings, bands } = subject;
  const scales = new Map<string, ReturnType<typeof openBuildScale>>();
  return ({ shown, looked }) => {
    const there = joint.ids.filter((_, index) => !Number.isNaN(looked[index]));
    const key = there.join(' ');
    if (!scales.has(key)) scales.set(key, openBuildScale(joint, there));
    const scale = scales.get(key);
    const values = looked.filter((value) => !Number.isNaN(value));
    const isOpen = readings.some(({ measure }, index) => measure === 'ohms' && Number.isNaN(shown[index]));
    const beyond = (share: number): boolean =>
      readings.some((_, index) => {
        const nominal = bands[index]!.nominal! + leadOhms(subject, index);
        return Math.abs(shown[index]! - nominal) > share * Math.abs(nominal);
      });
    return {
      whole: scale ? scale.distanceOf(values) > scale.limit : false,
      bands: isOpen || readings.some((_, index) => isOutside(subject, shown, index)),
      beyond10: isOpen || beyond(0.1),
      beyond20: isOpen || beyond(0.2),
    };
  };
}

function isOutside(subject: Subject, shown: Float64Array, index: number): boolean {
  const { lowest, highest } = subject.bands[index]!;
  const value = shown[index]! - leadOhms(subject, index);
  return value < lowest! || value > highest!;
}

function leadOhms({ readings, bench }: Subject, index: number): number {
  return readings[index]!.measure === 'ohms' ? bench.leads.ohms : 0;
}
