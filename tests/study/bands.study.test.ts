import { describe, expect, it } from 'vitest';
import { seeds } from './bands-report.ts';
import { studyFaulty, studyHealthy } from './bands.study.ts';
import { heronSubject } from './builds.ts';

/** A seeded slice of `npm run study -- bands`; simulated Herons, no real amplifier measured. */
describe('bands on simulated Herons whose valve models are off', { timeout: 120_000 }, () => {
  const subject = heronSubject();

  it('hold 99.8 % of the readings of healthy builds and seldom alarm for the build as a whole', () => {
    const builds = 400;
    const { inside, wholeAlarms } = studyHealthy(subject, 'wrong', builds, seeds.wrong);
    const shares = Object.values(inside);
    expect(shares).toHaveLength(42);
    // Readings go together, so the mean over them scatters by
    // about 0.1 % among 400 builds: 99.8 % less three of that.
    expect(shares.reduce((sum, share) => sum + share, 0) / shares.length).toBeGreaterThan(0.995);
    // 2 % are promised, 8 of 400 with a standard deviation of 2.8; three of those.
    expect(wholeAlarms * builds).toBeLessThanOrEqual(16);
  });

  it('flag single faults that move some reading by more than three deviations', () => {
    const figures = studyFaulty(subject, 'wrong', 1, seeds.faulty, (_, index) => index % 3 === 0);
    expect(figures.visible).toBeGreaterThan(25);
    // Of some 35 builds one may be missed by chance where 97 % are promised.
    expect(figures.builds * (1 - figures.flagged)).toBeLessThan(1.5);
    expect(figures.by20).toBeLessThanOrEqual(figures.flagged);
  });
});
