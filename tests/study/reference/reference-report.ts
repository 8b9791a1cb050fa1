import { Simulator } from '../../helpers/simulator.ts';
import type { StudyReport } from '../main.ts';
import { comparePoints, type PointFigures } from './compare-points.ts';
import { compareDrains, type DrainFigures } from './compare-drains.ts';
import { compareSignals, type SignalFigures } from './compare-signals.ts';
import { type StressFigures, runStress } from './stress.ts';
import { circuitSubjects, kitSubjects, type Subject } from './subjects.ts';

/** Full size: samples of each subject, and cases of the stress set. */
const fullSamples = 200;
const fullStress = 9000;

/** What is promised of the engine. */
const promised = {
  residualAmps: 1e-9,
  nominalIterations: 8,
  faultIterations: 30,
  decibels: 1e-3,
  cold: 1e-4,
  hot: 1e-2,
};

interface SubjectFigures {
  readonly group: string;
  readonly condition: string;
  readonly points: PointFigures;
  readonly signals: SignalFigures | null;
  /** Of circuits; those of kits have tests of their own. */
  readonly drains: DrainFigures | null;
}

/** Longest time of one question, in milliseconds (ms): an answer takes a few; a search that hangs has none. */
const longestQuestion = 15_000;

/**
 * The engine against the reference simulator: circuits with every device and every build of the three kits, nominal,
 * scattered and with every single fault; then a stress set by itself.
 *
 * @param size Share of the samples and of the stress set; faults are always all there.
 */
export async function runReferenceStudy(size: number): Promise<StudyReport> {
  const subjects = [...circuitSubjects(), ...kitSubjects()];
  const figures: SubjectFigures[] = [];
  const simulator = new Simulator(longestQuestion);
  for (const subject of subjects) {
    const points = await comparePoints(simulator, subject, Math.ceil(fullSamples * size));
    const signals = await compareSignals(simulator, subject);
    const drains = subject.condition === '' ? await compareDrains(simulator, subject) : null;
    figures.push({ group: subject.group, condition: subject.condition, points, signals, drains });
    if (size > 0.1) console.log(`… ${subject.group} ${subject.condition} ${points.cases} cases`);
  }
  simulator.close();
  const stress = runStress(subjects, Math.ceil(fullStress * size));
  return reportOf(figures, stress, subjects);
}

function reportOf(
  figures: readonly SubjectFigures[],
  stress: StressFigures,
  subjects: readonly Subject[],
): StudyReport {
  const groups = [...new Set(figures.map(({ group }) => group))];
  const isKept =
    figures.every(isPromiseKept) &&
    stress.unsolved.length === 0 &&
    stress.residualAmps <= promised.residualAmps;
  const missed = figures.flatMap(missesOf);
  return {
    lines: [
      `Against the reference simulator: ${subjects.length} circuits and conditions.`,
      'circuit | unknowns | cases (faults) | relative above 10 V | µV below | supply current | law of currents, A | iterations nominal, sample, fault | stepped | asked again | dB | drain cold, hot',
      ...groups.map((group) =>
        lineOf(
          group,
          figures.filter((each) => each.group === group),
        ),
      ),
      `Stress, ${stress.cases} cases of 0 to 3 faults with every value scattered: ${stress.direct} direct, ` +
        `${stress.stepped} by stepping, ${stress.unsolved.length} unsolved; iterations ${stress.iterations.join(', ')} ` +
        `(half, 99 %, all); law of currents ${stress.residualAmps.toExponential(1)} A.`,
      ...stress.unsolved.map((each) => `unsolved: ${each}`),
      ...(missed.length > 0 ? ['Missed:', ...missed] : ['Nothing missed.']),
    ],
    data: { figures, stress },
    isKept,
  };
}

/** One line of the table: the worst of all conditions. */
function lineOf(group: string, figures: readonly SubjectFigures[]): string {
  const points = figures.map((each) => each.points);
  const worst = (of: (each: PointFigures) => number): number => Math.max(...points.map(of));
  const sum = (of: (each: PointFigures) => number): number => points.reduce((all, each) => all + of(each), 0);
  const decibels = figures.flatMap(({ signals }) => (signals ? [signals.decibels] : []));
  return [
    group,
    worst(({ unknowns }) => unknowns),
    `${sum(({ cases }) => cases)} (${sum(({ faults }) => faults)})`,
    worst(({ relativeError }) => relativeError).toExponential(1),
    (1e6 * worst(({ smallVolts }) => smallVolts)).toFixed(2),
    worst(({ supplyError }) => supplyError).toExponential(1),
    worst(({ residualAmps }) => residualAmps).toExponential(1),
    `${worst((each) => each.nominalIterations)}, ${worst((each) => each.sampleIterations)}, ${worst((each) => each.faultIterations)}`,
    sum(({ stepped }) => stepped.length),
    sum(({ askedAgain }) => askedAgain),
    decibels.length > 0 ? Math.max(...decibels).toExponential(1) : '–',
    figures
      .flatMap(({ drains }) => (drains ? [`${percent(drains.cold)}, ${percent(drains.hot)}`] : []))
      .join() || '–',
  ].join(' | ');
}

function percent(share: number): string {
  return `${(100 * share).toFixed(4)} %`;
}

/** Whether everything that was promised holds for one subject. */
function isPromiseKept(figures: SubjectFigures): boolean {
  return missesOf(figures).length === 0;
}

function missesOf({ group, condition, points, signals, drains }: SubjectFigures): readonly string[] {
  const name = condition === '' ? group : `${group}, ${condition}`;
  return [
    ...points.unsolved.map((each) => `not solved: ${each}`),
    ...points.stepped.map((each) => `by stepping: ${each}`),
    ...points.unlike.map((each) => `unlike: ${each}`),
    ...points.noAnswer.map((each) => `the simulator finds no point: ${each}`),
    ...(points.nominalIterations > promised.nominalIterations
      ? [`${points.nominalIterations} iterations: nominal`]
      : []),
    ...(points.faultIterations > promised.faultIterations
      ? [`${points.faultIterations} iterations: ${points.slowestFault}`]
      : []),
    ...(points.residualAmps > promised.residualAmps ? [`law of currents: ${points.residualAmps} A`] : []),
    ...(signals && signals.decibels > promised.decibels ? [`${signals.decibels} dB: ${signals.worst}`] : []),
    ...(drains && !(drains.cold <= promised.cold && drains.hot <= promised.hot)
      ? [`drain ${percent(drains.cold)} cold, ${percent(drains.hot)} hot`]
      : []),
  ].map((each) => `${name}: ${each}`);
}
