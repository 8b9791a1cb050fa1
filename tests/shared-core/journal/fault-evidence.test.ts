import { expect, test } from 'vitest';
import type {
  BuildState,
  ReadingEntryRecord,
  ReadingRecord,
} from '../../../shared-core/journal/build-state.ts';
import { asksForCause, faultEvidence } from '../../../shared-core/journal/fault-evidence.ts';
import { walkBench } from '../../helpers/walk-kit.ts';
import { heronKit } from '../../renderer/helpers/heron-kit.ts';

function entry(seq: number, value: number | null): ReadingEntryRecord {
  const read = value === null ? ({ kind: 'overload' } as const) : ({ kind: 'value', value } as const);
  return {
    ...{ seq, at: '', entry: read, typed: '', verdict: 'out of band', band: null },
    ...{ bandShownBefore: false, corrects: null, condition: null },
  };
}

function record(verdict: ReadingRecord['verdict'], ...entries: readonly ReadingEntryRecord[]): ReadingRecord {
  return { entries, verdict, settled: 'open', counts: true, acceptedReason: null };
}

const none: Pick<BuildState, 'readings' | 'repairs' | 'wrongs' | 'bench' | 'measuredPlaces'> = {
  ...{ readings: {}, repairs: [], wrongs: [], bench: walkBench },
};

test('gives what counts in the order taken, ohms without those of the leads', () => {
  const { taken } = faultEvidence(
    {
      ...none,
      readings: {
        'v2-cathode': record('out of band', entry(9, 11.4)),
        'v1a-anode-cold': record('as expected', entry(4, 100_000.2)),
        'v2-screen-cold': record('out of band', entry(5, null)),
        'v2-anode': { ...record('as expected', entry(2, 250)), counts: false },
        'v2-grid': record('still warming', entry(10, 1)),
      },
    },
    heronKit,
  );
  // The leads of the bench are 0.2 Ω.
  expect(taken).toEqual([
    { id: 'v1a-anode-cold', value: 100_000 },
    { id: 'v2-screen-cold', value: null },
    { id: 'v2-cathode', value: 11.4 },
  ]);
});

test('seeks no slip where the same was read twice', () => {
  const readings = {
    'v2-cathode': record('out of band', entry(1, 11.4), entry(2, 11.5)),
    'v2-screen': record('out of band', entry(3, 200), entry(4, 258)),
  };
  expect(faultEvidence({ ...none, readings }, heronKit).checked).toEqual(['v2-cathode']);
});

test('forgets signs and places of before the last repair', () => {
  const at = (minute: number): string => `2026-03-07T09:${String(minute).padStart(2, '0')}:00.000Z`;
  const place = (minute: number, value: number) => ({
    ...{ reading: 'R10 ohms', at: 'TS3.2', against: 'V1.6', typed: '', time: at(minute) },
    entry: { kind: 'value', value } as const,
  });
  const evidence = {
    ...none,
    wrongs: [
      { at: at(1), signs: ['fuse blew'] as const, what: '' },
      { at: at(9), signs: ['hot part', 'hot part'] as const, what: '' },
    ],
    measuredPlaces: [place(2, 10_000.2), place(8, 100_000.2)],
    repairs: [{ at: at(5), what: '', readings: [], places: [] }],
  };
  const { signs, taken } = faultEvidence(evidence, heronKit);
  expect(signs).toEqual(['hot part']);
  expect(taken).toEqual([{ id: 'R10 ohms', value: 100_000 }]);
  expect(asksForCause(evidence, heronKit)).toBe(true);
  expect(asksForCause(none, heronKit)).toBe(false);
});
