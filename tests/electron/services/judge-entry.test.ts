import { expect, test } from 'vitest';
import { judgeEntry } from '../../../electron/services/judge-entry.ts';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { initialBuild } from '../../../shared-core/journal/fold-build.ts';
import { nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { asStated, chooseHeron } from '../../shared-core/prediction/heron.ts';

const stamp = { at: '2026-03-07T10:00:00.000Z', run: 'r', tick: 0 };
const header = {
  format: 'kitwright-journal/1',
  build: '5f0c3c1e-6f0a-4a55-9e57-0b1f6a2f8f11',
  kit: 'heron',
  revision: 'B',
  kitHash: '00',
} as const;

test('a good reading says in one sentence which others it moves, and which way', () => {
  const { chosen } = chooseHeron();
  const prediction = predictBands(chosen, 'rectifier', nominalBench(chosen), asStated);
  if (prediction === undefined) throw new Error('no prediction');
  const nominal = prediction.readings.find(({ id }) => id === 'b1-unloaded')?.nominal ?? 0;
  const entry = { kind: 'value', value: nominal * 1.03 } as const;
  const judged = judgeEntry(initialBuild(header), chosen, prediction, 'b1-unloaded', entry, stamp);
  expect(judged?.judgement.verdict).toBe('as expected');
  const title = chosen.readings.find(({ id }) => id === 'b2-unloaded')?.title;
  expect(judged?.moved).toEqual([
    `B1, rectifier only reads 3 % high: ${title} and 2 others expected higher.`,
  ]);
});
