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

test('a good reading says of each other reading, by its title, what it moves it to and why', () => {
  const { chosen } = chooseHeron();
  const prediction = predictBands(chosen, 'rectifier', nominalBench(chosen), asStated);
  if (prediction === undefined) throw new Error('no prediction');
  const nominal = prediction.readings.find(({ id }) => id === 'b1-unloaded')?.nominal ?? 0;
  const entry = { kind: 'value', value: nominal * 1.03 } as const;
  const judged = judgeEntry(initialBuild(header), chosen, prediction, 'b1-unloaded', entry, stamp);
  expect(judged?.judgement.verdict).toBe('as expected');
  const titles = ['b2-unloaded', 'b3-unloaded', 'b4-unloaded'].map(
    (id) => chosen.readings.find((reading) => reading.id === id)?.title,
  );
  expect(judged?.moved.map((sentence) => sentence.split(': ')[0])).toEqual(titles);
  for (const sentence of judged?.moved ?? []) {
    expect(sentence).toMatch(/: because B1, rectifier only reads 3 % high here, expect 33\d\sV\.$/);
  }
});
