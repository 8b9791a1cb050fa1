import { describe, expect, it } from 'vitest';
import type { KitSource } from '../../../shared-core/kit/source.ts';
import { itemKey } from '../../../shared-core/kit/source.ts';
import { checkElectricity } from '../../../shared-core/prediction/check-electricity.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { chooseHeron } from './heron.ts';
import { smallKit } from './small-kit.ts';

/** A source that has each given item on a line of its own. */
function sourceOf(lines: Readonly<Record<string, number>>): KitSource {
  const items = Object.keys(lines).map((key) => {
    const [section, id] = key.split('.') as ['parts' | 'readings', string];
    return [itemKey(section, id, {}), key] as const;
  });
  return {
    file: 'kit.yaml',
    values: Object.fromEntries(Object.entries(lines).map(([key, line]) => [key, [line, 3] as const])),
    keys: {},
    items: Object.fromEntries(items),
  };
}

describe('checkElectricity', { timeout: 60_000 }, () => {
  it('finds nothing wrong with Heron on either mains', () => {
    for (const mains of ['230 V 50 Hz', '120 V 60 Hz']) {
      const { chosen, source } = chooseHeron({ mains });
      expect(checkElectricity(chosen, source)).toEqual([]);
    }
  });

  it('reports a resistor above its rating on its line, with the figures', () => {
    // 350 V on 20 kΩ is 6 W in a 2 W part.
    const kit = halfWaveKit([resistorOf('R1', 20e3, 'TS1.1', 'TS1.8')]);
    const problem = checkElectricity(kit, sourceOf({ 'parts.R1': 42 })).find(({ message }) =>
      message.startsWith('R1'),
    );
    expect(problem).toMatchObject({ code: 'electricity/over-rating', severity: 'error', line: 42 });
    expect(problem?.message).toMatch(/^R1: dissipation .*limit 2\u202fW/);
  });

  it('reports a stop limit of the kit that is above what stands there is rated for', () => {
    const { chosen, source } = chooseHeron();
    // C1 is rated 450 V; the EL84 65 mA, through 430 Ω + 1 % twice at most 14.1 V at its cathode.
    const limits: Readonly<Record<string, number>> = { 'b1-unloaded': 460, 'v2-cathode': 18 };
    const readings = chosen.readings.map((reading) => {
      const stopAbove = limits[reading.id];
      return stopAbove === undefined ? reading : { ...reading, stopAbove };
    });
    const problems = checkElectricity({ ...chosen, readings }, source);
    expect(problems.map(({ code, severity }) => `${code} ${severity}`)).toEqual(
      Array.from({ length: 2 }, () => 'electricity/stop-over-rating error'),
    );
    expect(problems.map(({ message }) => message).join()).toMatch(
      /b1-unloaded says stop above 460\u202fV; what stands there is rated 450\u202fV.*v2-cathode.*14\.1\u202fV/,
    );
    expect(problems.every(({ line }) => (line ?? 0) > 100)).toBe(true);
  });

  it('reports a store without a discharge path', () => {
    const problems = checkElectricity(halfWaveKit([]), sourceOf({ 'parts.C1': 7 }));
    expect(problems).toEqual([
      expect.objectContaining({ code: 'electricity/no-drain', line: 7, severity: 'error' }),
    ]);
  });

  it('reports a reading that must be zero because its rectifier is not fitted', () => {
    const { chosen, source } = chooseHeron();
    const readings = chosen.readings.map((reading) =>
      reading.id === 'b1-unloaded' ? { ...reading, in: 'no-valves' } : reading,
    );
    const problems = checkElectricity({ ...chosen, readings }, source);
    expect(problems).toEqual([
      expect.objectContaining({ code: 'electricity/reading-dead', severity: 'error' }),
    ]);
    expect(problems[0]?.message).toContain('b1-unloaded');
    expect(problems[0]?.line).toBeGreaterThan(1);
  });

  it('reports a heater winding without a DC reference, and one that is overloaded', () => {
    const { chosen, source } = chooseHeron();
    const floating = { ...chosen, parts: chosen.parts.filter(({ id }) => id !== 'R8' && id !== 'R9') };
    expect(checkElectricity(floating, source).map(({ code }) => code)).toEqual([
      'electricity/heater-floating',
    ]);
    const parts = chosen.parts.map((part) =>
      part.kind === 'mains-transformer'
        ? {
            ...part,
            windings: part.windings.map((winding) =>
              winding.name === 'heater' ? { ...winding, amps: 1.5 } : winding,
            ),
          }
        : part,
    );
    expect(checkElectricity({ ...chosen, parts }, source).map(({ code }) => code)).toContain(
      'electricity/heater-overloaded',
    );
  });

  it('says that a condition cannot be computed instead of giving a figure', () => {
    const kit = smallKit({
      parts: [
        {
          kind: 'resistor',
          id: 'R1',
          ohms: 1e3,
          tolerance: { low: 0, high: 0 },
          watts: 1,
          between: ['gnd', 'chassis'],
        },
      ],
      conditions: [{ id: 'running' }],
    });
    expect(checkElectricity(kit, sourceOf({}))).toEqual([]);
  });
});
