import type { CovariateReport, FaultPoint, RevisionReport, StepReport } from './gather-report.ts';
import type { FleetGroup } from './fleet-group.ts';
import { familyLimit } from './normal-point.ts';
import type { StepTally } from './step-tally.ts';
import { quartilesOf, summariseReading } from './summarise-reading.ts';
import { fewestBuilds } from './tally.ts';
import { wilsonShare } from './wilson.ts';

/** Fault points named. */
const mostFaultPoints = 40;

/** One revision of a kit, from what was counted of it. */
export function summariseGroup(group: FleetGroup, hasKit: boolean): RevisionReport {
  const { kit, builds } = group;
  const covariates = covariatesOf(group);
  const cannot = new Set(covariates.filter((each) => each.cannot !== null).map(({ matter }) => matter));
  const tallies = [...group.readings.values()];
  const looks = tallies.reduce(
    (sum, { byCovariate }) =>
      sum + [...byCovariate.matters.values()].reduce((own, { size }) => own + size, 0),
    0,
  );
  const limits = { drift: familyLimit(tallies.length), separation: familyLimit(looks), cannot };
  const readings = tallies.map((tally) => summariseReading(tally, limits));
  const steps = [...group.steps.values()].map((step) => stepReport(step, builds, hasKit));
  const lists = [group.causes, group.signs, group.notes];
  return {
    ...{ kit: kit.id, name: kit.name, maker: kit.maker, revision: kit.revision, kitHash: kit.kitHash },
    ...{ simulated: group.isSimulated, builds, declared: group.declared, questions: group.questions },
    signed: wilsonShare(group.signed, builds),
    repaired: wilsonShare(group.repairedIn, builds),
    stopped: wilsonShare(group.stoppedIn, builds),
    somethingWrong: wilsonShare(group.wrongIn, builds),
    seconds: quartilesOf(group.seconds),
    lastAt: group.lastAt,
    choices: group.choices.ranked(),
    ...{ readings, steps, covariates },
    faultPoints: faultPoints(readings, steps),
    causes: group.causes.ranked(),
    signs: group.signs.ranked(),
    notes: group.notes.ranked(),
    unlisted: lists.reduce((sum, { beyond }) => sum + beyond, 0),
  };
}

function stepReport(step: StepTally, builds: number, hasKit: boolean): StepReport {
  const { id, title, begun, done, reopened, leftOpen, notes } = step;
  return {
    ...{ id, title, begun, done, reopened, leftOpen, notes },
    seconds: quartilesOf(step.seconds),
    reopenedIn: wilsonShare(step.reopenedIn, begun),
    stoppedIn: wilsonShare(step.stoppedIn, begun),
    // Declared steps are mended too: the share is of all builds.
    repairedIn: hasKit ? wilsonShare(step.repairedIn, builds) : null,
  };
}

/** Readings and steps where builds go wrong, the surest first: by the lower end of the interval. */
function faultPoints(
  readings: RevisionReport['readings'],
  steps: readonly StepReport[],
): readonly FaultPoint[] {
  const points: FaultPoint[] = [
    ...readings.map(({ id, title, outOfBand: share }): FaultPoint => {
      return { kind: 'reading', id, title, what: 'first reading out of band or stop', share };
    }),
    ...steps.flatMap(({ id, title, reopenedIn, repairedIn }): FaultPoint[] => [
      { kind: 'step', id, title, what: 'reopened', share: reopenedIn },
      ...(repairedIn === null
        ? []
        : [{ kind: 'step' as const, id, title, what: 'a repair there' as const, share: repairedIn }]),
    ]),
  ];
  return points
    .filter(({ share }) => share.count > 0)
    .sort((one, other) => other.share.low - one.share.low || other.share.count - one.share.count)
    .slice(0, mostFaultPoints);
}

/** What beside the kit was different in the fleet, and whether it can be told apart. */
function covariatesOf(group: FleetGroup): readonly CovariateReport[] {
  const matters = new Map<string, { name: string; count: number }[]>();
  for (const { name: key, count } of group.levels.ranked()) {
    const at = key.indexOf(': ');
    const [matter, name] = [key.slice(0, at), key.slice(at + 2)];
    matters.set(matter, [...(matters.get(matter) ?? []), { name, count }]);
  }
  return [...matters].map(([matter, levels]) => {
    return { matter, levels, cannot: whyNot(group, matter, levels) };
  });
}

function whyNot(
  { covariates }: FleetGroup,
  matter: string,
  levels: readonly { readonly name: string; readonly count: number }[],
): string | null {
  if (levels.length < 2) return `it was ${levels[0]?.name ?? 'the same'} in all builds`;
  const enough = levels.filter(({ count }) => count >= fewestBuilds);
  if (enough.length < 2) return `fewer than ${fewestBuilds} builds had anything but ${levels[0]?.name}`;
  const bound = covariates.boundTo(matter);
  return bound.length === 0 ? null : `it always changed together with ${bound.join(', ')}`;
}
