import type { StudyReport } from './main.ts';
import {
  countFalseAlarms,
  type FaultSubject,
  openFaultSubject,
  type SinglesFigures,
  studyDoubles,
  studySeverities,
  studySingles,
} from './explain.study.ts';
import { chooseStudyKit } from './study-kits.ts';
import { studyMistaken, studyNext, studySlips } from './next-and-slips.study.ts';

/** Seeds, so that every figure can be had again. */
export const faultSeeds = {
  healthy: 101,
  singles: 102,
  wrong: 103,
  severities: 104,
  doubles: 105,
  next: 106,
  slips: 107,
  mistaken: 108,
} as const;

/** Full sizes of the populations. */
const full = { healthy: 20000, singles: 3000, other: 500, next: 300, slips: 500 } as const;

/** The study of faults over the three kits: a share of the full populations. */
export async function runFaultsStudy(
  size: number,
  kits: readonly string[] = ['heron', 'wren', 'curlew'],
): Promise<StudyReport> {
  const data: Record<string, unknown> = {};
  const lines: string[] = [];
  let isKept = true;
  for (const id of kits) {
    const say = (line: string): void => {
      lines.push(line);
      // Long: what is known is said at once.
      console.error(`${id}: ${line}`);
    };
    const subject = openFaultSubject(chooseStudyKit(id));
    const found = await studyKit(subject, id, size, say);
    data[id] = found.figures;
    isKept &&= found.isKept;
  }
  return { lines, data: { seeds: faultSeeds, size, kits: data }, isKept };
}

async function studyKit(
  subject: FaultSubject,
  id: string,
  size: number,
  say: (line: string) => void,
): Promise<{ readonly figures: unknown; readonly isKept: boolean }> {
  const count = (of: number): number => Math.max(20, Math.round(of * size));
  const failures: string[] = [];
  const need = (holds: boolean, line: string): void => {
    say(`${holds ? 'kept  ' : 'MISSED'} ${line}`);
    if (!holds) failures.push(line);
  };
  const seen = subject.visible.filter(({ all }) => all).length;
  const direct = subject.visible.filter(({ direct: isDirect }) => isDirect).length;
  const hidden = subject.visible.length - direct;
  const found = subject.visible.filter((each) => each.all && !each.direct).length;
  say(`${id}: ${subject.visible.length} circuits with one fault, ${subject.places.length} readings`);
  need(
    found >= hidden / 2,
    `cold ohms, AC and signal show ${found} of ${hidden} that DC volts do not (${direct} seen in DC volts, ${seen} in all)`,
  );
  const healthy = count(full.healthy);
  const alarms = countFalseAlarms(subject, healthy, faultSeeds.healthy);
  need(alarms <= 0.02 * healthy, `false alarms ${percent(alarms / healthy)} of ${healthy} healthy builds`);
  const singles = studySingles(subject, count(full.singles), faultSeeds.singles);
  tellSingles(singles, need, 0.96);
  const wrong = studySingles(subject, count(full.other), faultSeeds.wrong, true);
  need(wrong.groupFirst >= 0.93, `models off: group first ${percent(wrong.groupFirst)}`);
  const severities = studySeverities(subject, count(full.other), faultSeeds.severities);
  need(severities >= 0.93, `severities not in the list: part in the first group ${percent(severities)}`);
  const doubles = studyDoubles(subject, count(full.other), faultSeeds.doubles);
  need(
    doubles >= 0.9,
    `two faults: a true part in the first three, or the last line first ${percent(doubles)}`,
  );
  const next = studyNext(subject, count(full.next), faultSeeds.next);
  need(
    next.chosen <= 0.6 * next.fixed,
    `next: ${next.chosen.toFixed(1)} readings to 95 %, ${next.fixed.toFixed(1)} in the kit's order`,
  );
  const slips = studySlips(subject, count(full.slips), faultSeeds.slips);
  for (const { kind, made, unseen, named } of slips) {
    if (made > 0)
      need(
        named >= 0.95,
        `slip "${kind}": ${percent(named)} named first of ${made}, ${percent(unseen)} cannot show`,
      );
  }
  const mistaken = studyMistaken(subject, count(full.other), faultSeeds.mistaken);
  need(mistaken <= 0.02, `faults taken for a slip ${percent(mistaken)}`);
  return {
    figures: { alarms, healthy, singles, wrong, severities, doubles, next, slips, mistaken },
    isKept: failures.length === 0,
  };
}

function tellSingles(
  { builds, visible, flagged, partFirst, partInThree, groupFirst, inSet, tenths, missed }: SinglesFigures,
  need: (holds: boolean, line: string) => void,
  group: number,
): void {
  need(flagged >= 0.9, `flagged ${percent(flagged)} of ${visible} visible among ${builds} faulty builds`);
  need(partFirst >= 0.93, `right part first ${percent(partFirst)}`);
  need(partInThree >= 0.99, `in the first three ${percent(partInThree)}`);
  need(groupFirst >= group, `right group first ${percent(groupFirst)}`);
  need(inSet >= 0.95, `95 % set holds it ${percent(inSet)}`);
  const used = tenths.filter(({ lines }) => lines >= 100);
  const worst = Math.max(0, ...used.map(({ stated, observed }) => Math.abs(stated - observed)));
  const lines = tenths.reduce((sum, each) => sum + each.lines, 0);
  const mean = tenths.reduce(
    (sum, each) => sum + (each.lines / Math.max(1, lines)) * Math.abs(each.stated - each.observed),
    0,
  );
  need(worst <= 0.1, `stated against observed: worst tenth off by ${worst.toFixed(3)}`);
  need(mean <= 0.05, `stated against observed: off by ${mean.toFixed(3)} on average`);
  need(true, `missed: ${missed.slice(0, 12).join('; ')}`);
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
