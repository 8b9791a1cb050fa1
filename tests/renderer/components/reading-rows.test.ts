import { describe, expect, it } from 'vitest';
import { besideOthers, readingRows } from '../../../renderer/components/reading-rows.ts';
import type { ReadingRow } from '../../../renderer/components/reading-rows.ts';
import { initialBuild } from '../../../shared-core/journal/fold-build.ts';
import { readingsOfStep } from '../../../shared-core/safety/lookup.ts';
import { heron } from '../helpers/fake-bridge.ts';

const build = initialBuild({
  ...{ format: 'kitwright-journal/1', build: 'b', kit: 'heron', revision: 'B', kitHash: 'h' },
});

const row: ReadingRow = {
  ...{ id: 'v2-cathode', title: 'Cathode of V2', group: 'running', shown: '7.8 V', value: 7.8, dayOne: null },
  band: {
    ...{ unit: 'V', nominal: 7.6, low: 7, high: 8.2, lowest: null, highest: null },
    ...{ stopAbove: null, stopBelow: null },
  },
  ...{ verdict: 'as expected', remarks: [] },
};

describe('readingRows', () => {
  it('lists every reading of the kit once, in the order in which the steps ask for them', () => {
    const ids = readingRows(build, heron).map(({ id }) => id);
    const asked = [...new Set(heron.facts.steps.flatMap(readingsOfStep))];
    expect(ids.slice(0, asked.length)).toEqual(asked);
    expect(ids.toSorted()).toEqual(heron.kit.readings.map(({ id }) => id).toSorted());
  });
});

describe('besideOthers', () => {
  const others = { 'v2-cathode': { nominal: 7.5, low: 7.2, high: 7.8, because: null } };

  it('tells what other conditions make one expect, once the number is there and never before', () => {
    const [told] = besideOthers(row, others).remarks;
    expect(told).toBe('other conditions make one expect 7.2\u202fV to 7.8\u202fV');
    expect(besideOthers({ ...row, shown: null }, others).remarks).toEqual([]);
    expect(besideOthers(row, {})).toBe(row);
  });
});
