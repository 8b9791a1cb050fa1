import { describe, expect, it } from 'vitest';
import { drainKit, expectKit } from '../../../shared-core/bands/expect-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { halfWaveKit, resistorOf } from '../prediction/half-wave-kit.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

/** Every number in a value, however deep. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(numbersIn);
}

describe('expectKit', { timeout: 60_000 }, () => {
  it('reports every condition of Heron without a number that JSON cannot hold', () => {
    const { chosen } = chooseHeron();
    const expectation = expectKit(chosen, plainBench, asStated, 'abc');
    const { report } = expectation;
    expect(report.conditions.map(({ condition }) => condition)).toEqual(
      chosen.conditions.map(({ id }) => id),
    );
    expect(numbersIn(expectation).filter((number) => !Number.isFinite(number))).toEqual([]);
    expect(expectation.overrated).toEqual([]);
    expect(report).toMatchObject({
      format: 'kitwright-expect/1',
      kit: 'heron',
      hash: 'abc',
      mainsVolts: 230,
    });
    expect(Object.keys(report.conditions[0]?.readings[0] ?? {})).toEqual(
      'id at against measure unit predicted nominal low high stopAbove stopBelow'.split(' '),
    );
  });

  it('finds the rating that is passed and the condition that is not there', () => {
    const kit = halfWaveKit([resistorOf('R1', 20e3, 'TS1.1', 'TS1.8')]);
    const { overrated, unknown } = expectKit(kit, plainBench, asStated, '', ['running', 'walking']);
    expect(overrated.map(({ part, what }) => `${part} ${what}`)).toContain('R1 dissipation');
    expect(unknown).toEqual(['walking']);
  });
});

describe('drainKit', () => {
  it('finds a store that takes longer than a minute, and one without a path', () => {
    const slow = halfWaveKit([resistorOf('R1', 470e3, 'TS1.1', 'TS1.8')]);
    expect(drainKit(slow, plainBench, asStated).findings).toEqual(['C1']);
    const { report, findings } = drainKit(halfWaveKit([]), plainBench, asStated);
    expect(findings).toEqual(['C1']);
    expect(report.stores[0]?.slowSeconds).toBeNull();
    const quick = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')]);
    expect(drainKit(quick, plainBench, asStated).findings).toEqual([]);
  });
});
