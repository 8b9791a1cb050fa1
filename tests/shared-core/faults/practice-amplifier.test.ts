import { describe, expect, test } from 'vitest';
import { practiceFault, practiceReadings } from '../../../shared-core/faults/practice-amplifier.ts';
import { nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { heronKit } from '../../renderer/helpers/heron-kit.ts';

const bench = nominalBench(heronKit);
const kit = { chosen: heronKit, bench, fitted: { valves: {}, measured: {} } };
const seeds = Array.from({ length: 40 }, (_, index) => index + 1);
const sound = seeds.find((seed) => practiceFault(kit, seed) === null) ?? 0;
const faulty = seeds.find((seed) => practiceFault(kit, seed) !== null) ?? 0;

describe('an invented amplifier', () => {
  test('is the same for the same seed, and another for another', () => {
    const one = practiceReadings(kit, 'running', sound);
    expect(practiceReadings(kit, 'running', sound)).toEqual(one);
    expect(practiceReadings(kit, 'running', sound + 1000)).not.toEqual(one);
  });

  test('has a fault in about every second one, by its words', () => {
    const faults = seeds.map((seed) => practiceFault(kit, seed)).filter((fault) => fault !== null);
    // 40 draws at one half: 20 ± 3 standard deviations of 3.2.
    expect(faults.length).toBeGreaterThan(10);
    expect(faults.length).toBeLessThan(30);
    expect(new Set(faults.map(({ words }) => words)).size).toBeGreaterThan(5);
    expect(practiceReadings(kit, 'running', faulty)).not.toEqual(practiceReadings(kit, 'running', sound));
  });

  test('shows OL where nothing conducts, and figures everywhere else', () => {
    const cold = practiceReadings(kit, 'cold', sound);
    expect(Object.keys(cold)).toEqual(
      heronKit.readings.filter((each) => each.in === 'cold').map(({ id }) => id),
    );
    const open = heronKit.readings.filter((each) => each.in === 'cold' && each.expect?.overload === true);
    for (const { id } of open) expect(cold[id], id).toBeNull();
    const figures = heronKit.conditions
      .flatMap(({ id }) => Object.values(practiceReadings(kit, id, sound)))
      .filter((value) => value !== null);
    expect(figures.length).toBeGreaterThan(20);
    expect(figures.every(Number.isFinite)).toBe(true);
  });
});
