import { type FaultyFigures, type HealthyFigures, studyFaulty, studyHealthy } from './bands.study.ts';
import { heronSubject, wrongModels } from './builds.ts';
import type { StudyReport } from './main.ts';

/** Builds of a full study. */
const healthyBuilds = 20_000;
const buildsPerFault = 60;

/** What is promised of builds whose valve models are wrong. */
export const promises = {
  /** Share of builds inside the 0.1–99.9 % band of each reading, and how far it may be off. */
  inside: 0.998,
  insideWithin: 0.0015,
  mostWholeAlarms: 0.02,
  leastFlagged: 0.97,
} as const;

/** Seeds of the builds: none of them the bands' own. */
export const seeds = { band: 20_001, wrong: 20_002, 'wrong-too': 20_003, faulty: 30_001 } as const;

/** Bands and whole-build verdict on simulated Herons. */
export async function runBandsStudy(size: number): Promise<StudyReport> {
  const subject = heronSubject();
  const builds = Math.max(1, Math.round(size * healthyBuilds));
  const perFault = Math.max(1, Math.round(size * buildsPerFault));
  const healthy = (['wrong', 'band'] as const).map((models) =>
    studyHealthy(subject, models, builds, seeds[models]),
  );
  const fewer = Math.max(1, Math.round(builds / 20));
  const beside = [
    studyHealthy(subject, 'wrong-too', fewer, seeds['wrong-too']),
    studyHealthy(subject, 'wrong', fewer, seeds.wrong, 'full'),
  ];
  const faulty = studyFaulty(subject, 'wrong', perFault, seeds.faulty);
  const [wrong] = healthy as [HealthyFigures];
  const missed = missedPromises(wrong, faulty);
  return {
    lines: reportLines([...healthy, ...beside], faulty, missed),
    data: { healthy: [...healthy, ...beside], faulty, missed },
    isKept: missed.length === 0,
  };
}

function missedPromises(wrong: HealthyFigures, faulty: FaultyFigures): readonly string[] {
  const { inside, insideWithin, mostWholeAlarms, leastFlagged } = promises;
  const off = Object.entries(wrong.inside).filter(([, share]) => Math.abs(share - inside) > insideWithin);
  return [
    ...off.map(([id, share]) => `${id} inside its band: ${percent(share)}`),
    ...(wrong.wholeAlarms > mostWholeAlarms ? [`whole-build alarms ${percent(wrong.wholeAlarms)}`] : []),
    ...(faulty.flagged < leastFlagged ? [`visibly faulty flagged ${percent(faulty.flagged)}`] : []),
  ];
}

const names = {
  wrong: 'models off',
  band: 'as predicted',
  'wrong-too': 'off on top',
} as const;

function reportLines(
  healthy: readonly HealthyFigures[],
  faulty: FaultyFigures,
  missed: readonly string[],
): readonly string[] {
  const limits = Object.entries(wrongModels).map(([name, limit]) => `${name} ±${100 * limit} %`);
  const row = (what: string, values: readonly string[]): string =>
    `  ${what.padEnd(46)}${values.map((value) => value.padStart(14)).join('')}`;
  const columns = (read: (one: HealthyFigures) => number): string[] =>
    healthy.map((one) => percent(read(one)));
  return [
    'Bands: simulated Herons, no real amplifier measured',
    `  Models off: every build's valve types with ${limits.join(', ')} (flat), in place of the models' stated`,
    '  error; as predicted: models as the bands have them; off on top: both at once;',
    '  off, in full: the ripple of every build by shooting, elsewhere it is that of one build.',
    row(
      '',
      healthy.map(({ models, depth }) => (depth === 'full' ? 'off, in full' : names[models])),
    ),
    row(
      'healthy builds',
      healthy.map(({ builds }) => String(builds)),
    ),
    ...Object.keys(healthy[0]?.inside ?? {}).map((id) =>
      row(
        `inside 0.1–99.9 %: ${id}`,
        columns((one) => one.inside[id]!),
      ),
    ),
    row(
      'whole-build false alarms',
      columns((one) => one.wholeAlarms),
    ),
    row(
      'any reading out of band',
      columns((one) => one.anyOutside),
    ),
    row(
      'any reading beyond ±10 % (rule of thumb)',
      columns((one) => one.anyBeyond10),
    ),
    row(
      'any reading beyond ±20 % (rule of thumb)',
      columns((one) => one.anyBeyond20),
    ),
    '',
    `Single faults, models off: ${faulty.faults} faults, ${faulty.visible} move some reading by more than 3 sd, ${faulty.builds} builds`,
    row('flagged by a band or the whole build', [percent(faulty.flagged)]),
    row('flagged by a band', [percent(faulty.byBands)]),
    row('flagged by the whole build', [percent(faulty.byWhole)]),
    row('flagged by ±10 %', [percent(faulty.by10)]),
    row('flagged by ±20 %', [percent(faulty.by20)]),
    `  hardest: ${faulty.hardest.map(([title, share]) => `${title} ${percent(share)}`).join(', ')}`,
    '',
    missed.length === 0 ? 'Every promise kept.' : `NOT KEPT: ${missed.join('; ')}`,
  ];
}

function percent(share: number): string {
  return `${(100 * share).toFixed(2)} %`;
}
