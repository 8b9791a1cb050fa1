import type { Drift, Quartiles, ReadingReport, Separation } from './gather-report.ts';
import type { LevelSums } from './covariate-tally.ts';
import { bandSigmas, type ReadingTally } from './reading-tally.ts';
import { fewestBuilds, quantileOf, robustMean, type Tally, type Weighted } from './tally.ts';
import { wilsonShare } from './wilson.ts';

/**
 * The predicted scatter counts as so many builds beside those there are, so that five builds that happen to agree
 * are not taken for certain. Our own figure; it does not matter from about a hundred builds on.
 */
const predictedBuilds = 10;

/** What a mean may be off by beside chance and the band's lopsidedness, in standard deviations. Our own figure. */
const leastDrift = 0.05;

/** Edges of the counts of `distribution`, in half-bands; what lies further out is counted at the ends. */
export const deviationEdges: readonly number[] = Array.from({ length: 25 }, (_, index) => -3 + index / 4);

/** The quartiles of a tally; null without values. */
export function quartilesOf(tally: Tally): Quartiles | null {
  const values = tally.values();
  const [lower, median, upper] = [0.25, 0.5, 0.75].map((share) => quantileOf(values, share));
  if (lower == null || median == null || upper == null) return null;
  return { count: tally.count, lower, median, upper };
}

/** How many looks of each kind are made, for the family-wise limits. */
export interface Limits {
  readonly drift: number;
  readonly separation: number;
  /** Matters that cannot be told apart, by name. */
  readonly cannot: ReadonlySet<string>;
}

/** What builders read at one place. */
export function summariseReading(tally: ReadingTally, limits: Limits): ReadingReport {
  const { reading, verdicts, taken } = tally;
  const quartiles = quartilesOf(tally.values);
  const deviations = tally.deviations.values();
  const verdict = (name: 'out of band' | 'stop'): number => verdicts.get(name) ?? 0;
  return {
    ...{ id: reading.id, title: reading.title, condition: reading.in, unit: reading.unit },
    ...{ taken, overloads: tally.overloads },
    values: quartiles && { ...quartiles, spread: quartiles.upper - quartiles.lower },
    verdicts: [...verdicts].filter(([, count]) => count > 0).map(([name, count]) => ({ name, count })),
    outOfBand: wilsonShare(verdict('out of band') + verdict('stop'), taken),
    stop: wilsonShare(verdict('stop'), taken),
    ...{ again: tally.again, shownBefore: tally.shownBefore, accepted: tally.accepted },
    reasons: tally.reasons.ranked(),
    drift: driftOf(deviations, tally.nominals / Math.max(1, tally.deviations.count), limits.drift),
    distribution: distributionOf(deviations),
    separations: [...tally.byCovariate.matters].flatMap(([matter, levels]) =>
      separationsOf(matter, levels, limits),
    ),
  };
}

/**
 * Bands are lopsided, and the mean of healthy amplifiers lies between nominal and the band's middle: a mean there is
 * no drift.
 *
 * @param nominal Where nominal stands, in standard deviations from the band's middle.
 */
function driftOf(deviations: readonly Weighted[], nominal: number, limit: number): Drift | null {
  const mean = robustMean(deviations);
  if (mean === null) return null;
  const { count, outliers, sigma } = mean;
  const scatter = ((count - 1) * sigma ** 2 + predictedBuilds) / (count - 1 + predictedBuilds);
  const error = Math.sqrt(scatter / count);
  const isFew = count < fewestBuilds;
  const apart = Math.max(mean.mean - Math.max(0, nominal), Math.min(0, nominal) - mean.mean);
  const isDrift = apart > limit * error + leastDrift;
  return {
    mean: mean.mean / bandSigmas,
    uncertainty: (1.96 * error) / bandSigmas,
    spread: sigma / bandSigmas,
    ...{ count, outliers },
    finding: isFew ? 'too few' : isDrift ? 'drift' : 'none',
  };
}

function distributionOf(deviations: readonly Weighted[]): readonly number[] {
  const counts = Array.from({ length: deviationEdges.length - 1 }, () => 0);
  const first = deviationEdges[0] ?? 0;
  for (const [value, count] of deviations) {
    const bin = Math.floor((value / bandSigmas - first) * 4);
    const held = Math.min(Math.max(bin, 0), counts.length - 1);
    counts[held] = (counts[held] ?? 0) + count;
  }
  return counts;
}

/** Each level against all others; the scatter is never taken for less than the predicted one. */
function separationsOf(
  matter: string,
  levels: ReadonlyMap<string, LevelSums>,
  { separation: limit, cannot }: Limits,
): readonly Separation[] {
  const all = [...levels].filter(([, { count }]) => count > 0);
  const total = all.reduce(
    (sum, [, own]) => ({
      count: sum.count + own.count,
      sum: sum.sum + own.sum,
      squares: sum.squares + own.squares,
    }),
    { count: 0, sum: 0, squares: 0 },
  );
  return all.map(([level, { count, sum, squares }]) => {
    const rest = total.count - count;
    if (cannot.has(matter) || count < fewestBuilds || rest < fewestBuilds) {
      return { matter, level, count, difference: null, uncertainty: null, finding: 'cannot be separated' };
    }
    const within = squares - sum ** 2 / count + (total.squares - squares - (total.sum - sum) ** 2 / rest);
    const sigma = Math.max(1, Math.sqrt(Math.max(0, within) / (total.count - 2)));
    const error = sigma * Math.sqrt(1 / count + 1 / rest);
    const difference = sum / count - (total.sum - sum) / rest;
    const finding = Math.abs(difference) > limit * error ? 'differs' : 'no difference seen';
    return {
      ...{ matter, level, count, finding },
      difference: difference / bandSigmas,
      uncertainty: (1.96 * error) / bandSigmas,
    };
  });
}
