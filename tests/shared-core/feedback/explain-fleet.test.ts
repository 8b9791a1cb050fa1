import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { drawReading } from '../../../shared-core/bands/draw-readings.ts';
import { type ConditionBands, computeBands } from '../../../shared-core/bands/predict-bands.ts';
import { changeAt } from '../../../shared-core/bands/response.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { explainFleet, type FleetMean } from '../../../shared-core/feedback/explain-fleet.ts';
import { bandDeviation } from '../../../shared-core/feedback/reading-tally.ts';
import { robustMean, type Weighted } from '../../../shared-core/feedback/tally.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKitFile } from '../../../shared-core/kit/read-kit.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';

const file = new URL('../../fixtures/kits/small/kit.yaml', import.meta.url);
const builds = 200;

let kit: ChosenKit;
let bands: readonly ConditionBands[];

beforeAll(() => {
  const read = readKitFile(readFileSync(file, 'utf8'), 'kit.yaml');
  const chosen = read.ok ? chooseKit(read.value.kit, {}) : read;
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  kit = chosen.value;
  const book = new SampleBook(1);
  bands = kit.conditions.flatMap(({ id }) => computeBands(kit, id, nominalBench(kit), asInKit, book) ?? []);
});

/** Two hundred invented builds with some quantities off in all of them; other draws than the explanation's own. */
function fleet(planted: Readonly<Record<string, number>>, seed: number): readonly FleetMean[] {
  const book = new SampleBook(seed, builds);
  const types = kit.parts.flatMap((part) => (part.kind === 'valve' ? [`${part.type}.`] : []));
  return bands.flatMap(({ moved, spreads, prediction }) =>
    moved.flatMap((own): FleetMean[] => {
      // The models of the valve types are the same in every build.
      const fits = own.fits.map((fit, index) =>
        types.some((type) => spreads[index]?.quantity.startsWith(type)) ? undefined : fit,
      );
      const shift = own.fits.reduce((sum, fit, index) => {
        const size = planted[spreads[index]?.quantity ?? ''];
        return fit && size !== undefined ? sum + changeAt(fit, size) : sum;
      }, 0);
      const band = prediction.readings.find(({ id }) => id === own.reading.id) ?? null;
      const drawn = drawReading(book, nominalBench(kit), spreads, { ...own, fits });
      const values = [...drawn].flatMap((value): Weighted[] => {
        const deviation = bandDeviation(value + shift, band);
        return deviation === null ? [] : [[deviation, 1]];
      });
      const mean = robustMean(values.toSorted(([one], [other]) => one - other));
      return mean ? [{ id: own.reading.id, mean: mean.mean, count: mean.count }] : [];
    }),
  );
}

describe('what would explain a fleet', () => {
  test.each([11, 12])('is nothing where nothing is planted (seed %i)', (seed) => {
    const seen = explainFleet(kit, nominalBench(kit), fleet({}, seed));
    expect([seen?.found, seen?.leftOver]).toEqual([[], []]);
  });

  test('is the resistor that is 8 % off and the valve model that is biased, each with its size', () => {
    const planted = { R1: 0.08, 'EL84.current': 0.15 };
    const seen = explainFleet(kit, nominalBench(kit), fleet(planted, 13));
    expect(seen?.found).toHaveLength(2);
    for (const [quantity, size] of Object.entries(planted)) {
      const own = seen?.found.flatMap(({ group }) => group).find((each) => each.quantity === quantity);
      expect(Math.abs((own?.size ?? 0) - size)).toBeLessThan(own?.uncertainty ?? 0);
    }
    // One cold reading tells of the bleeder: only meters that all err alike would look the same, and are named.
    const group = seen?.found.find((each) => each.group.some(({ quantity }) => quantity === 'R1'))?.group;
    expect(group?.map(({ quantity }) => quantity).toSorted()).toEqual(['R1', 'meter ohms']);
  });
});
