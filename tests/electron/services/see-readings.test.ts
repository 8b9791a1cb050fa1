import { describe, expect, it } from 'vitest';
import type { Engine } from '../../../electron/engine-worker/engine.ts';
import type { HashedKit, TogetherTurn } from '../../../electron/engine-worker/together-job.ts';
import { seeReadings, takenReadings } from '../../../electron/services/see-readings.ts';
import type { ReadingRecord } from '../../../shared-core/journal/build-state.ts';

function taken(seq: number, value: number, more: Partial<ReadingRecord> = {}): ReadingRecord {
  const entry = { kind: 'value', value } as const;
  return {
    entries: [
      {
        ...{ seq, at: '2026-03-07T10:00:00.000Z', entry, typed: String(value), verdict: 'as expected' },
        ...{ band: null, bandShownBefore: false, corrects: null, condition: null },
      },
    ],
    ...{ verdict: 'as expected', settled: 'settled', counts: true, acceptedReason: null },
    ...more,
  };
}

/** An engine that gives these turns, one after the other, and notes what it was asked. */
function engineOf(turns: readonly TogetherTurn[]) {
  const asked: string[] = [];
  const run = ((_kind: string, _needs: unknown, { key }: { readonly key: string }) => {
    const value = turns[Math.min(asked.length, turns.length - 1)];
    asked.push(key);
    return Promise.resolve({ ok: true, value, warnings: [] });
  }) as unknown as Engine['run'];
  return { asked, engine: { run, remember: () => undefined, close: () => Promise.resolve() } };
}

const kit = {} as HashedKit;
const order = { key: 'basis', slot: 'build' };
const ready = { judgement: null, fromOthers: {}, moved: ['a'] };

describe('takenReadings', () => {
  it('gives the numbers that count in the order they were taken, with which of them are good', () => {
    const readings = {
      late: taken(9, 5),
      early: taken(4, 7, { verdict: 'out of band' }),
      again: taken(5, 1, { counts: false }),
      warming: taken(6, 1, { verdict: 'still warming' }),
      stopped: taken(7, 1, { verdict: 'stop' }),
    };
    expect(takenReadings({ readings })).toEqual([
      { id: 'early', value: 7, isGood: false },
      { id: 'late', value: 5, isGood: true },
    ]);
  });
});

describe('seeReadings', () => {
  const build = { readings: { b1: taken(3, 100) } };

  it('asks turn by turn until the engine is ready, each under a name of its own', async () => {
    const { asked, engine } = engineOf([
      { kind: 'under way', done: 1, of: 2 },
      { kind: 'under way', done: 2, of: 2 },
      { kind: 'ready', together: ready },
    ]);
    expect(await seeReadings(engine, kit, build, order)).toMatchObject({ ok: true, value: ready });
    expect(new Set(asked).size).toBe(3);
  });

  it('asks nothing before the first reading', async () => {
    const { asked, engine } = engineOf([]);
    const seen = await seeReadings(engine, kit, { readings: {} }, order);
    expect([seen.ok && seen.value.judgement, asked]).toEqual([null, []]);
  });

  it('gives up, without a verdict, where the engine never comes to an end', async () => {
    const { asked, engine } = engineOf([{ kind: 'under way', done: 1, of: 2 }]);
    expect(await seeReadings(engine, kit, build, order)).toMatchObject({ ok: false });
    expect(asked).toHaveLength(200);
  });
});
