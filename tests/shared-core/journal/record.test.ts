import { expect, test } from 'vitest';
import { makeRecord, recordText, type RecordKit } from '../../../shared-core/journal/build-record.ts';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import { finch, finchBench } from '../../helpers/finch.ts';
import { enter, plugIn } from '../../helpers/journey.ts';
import { scriptBuild, sha256 } from '../../helpers/scripted-build.ts';
import { buildFinch, endCondition } from '../../helpers/scripted-safety.ts';

const kit: RecordKit = {
  id: 'finch',
  name: 'Finch',
  maker: 'Larkfield Radio Works',
  revision: 'A',
  kitHash: 'finch-a',
  safeVolts: 30,
  conditions: finch.conditions.map(({ id, title }) => ({ id, title })),
  chapters: [{ id: 'all', title: 'All' }],
  steps: finch.steps.map(({ id, title, chapter }) => ({ id, title, chapter })),
  readings: finch.readings.map(({ id, title, at, against, measure, in: condition }) => ({
    id,
    title,
    at,
    against,
    measure,
    unit: measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V',
    in: condition,
  })),
  parts: { C1: 'Reservoir', C2: 'Smoothing' },
};

function record() {
  const header = {
    format: 'kitwright-journal/1',
    build: '2f6c3a52-8f0e-4b7c-9a31-000000000002',
    kit: 'finch',
    revision: 'A',
    kitHash: 'finch-a',
  } as const;
  const build = scriptBuild({ facts: finch, header });
  build.do('bench-recorded', { bench: finchBench });
  buildFinch(build);
  plugIn(build, 'lamp', 'on-lamp');
  enter(build, 'ht-ac', { value: 250 });
  endCondition(build);
  const made = makeRecord(
    { app: '0.1.0', kit, header, entries: build.entries(), build: build.state(), facts: finch, photos: [] },
    sha256,
  );
  if (made === null) throw new Error('the record has no canonical form');
  return made;
}

test('a record reads back as it was written', () => {
  const made = record();
  expect(readRecord(recordText(made), sha256)).toEqual({ ok: true, value: made, warnings: [] });
});

test('members of a later version are kept', () => {
  const { seal: _, format: __, ...content } = record();
  const made = makeRecord({ ...content, weather: 'fine' } as typeof content, sha256);
  if (made === null) throw new Error('no form');
  const read = readRecord(recordText(made), sha256);
  expect(read).toMatchObject({ ok: true, value: { weather: 'fine' }, warnings: [] });
});

test('what the readings are taken together is kept, and nothing else is taken for it', () => {
  const { seal: _, format: __, ...content } = record();
  const together = {
    ...{ healthy: true, distance: 2.1, limit: 4.5, readings: 7, standsOut: null, side: null },
    words: 'Taken together, these 7 readings are as a healthy amplifier’s.',
  } as const;
  const made = makeRecord({ ...content, together }, sha256);
  if (made === null) throw new Error('no form');
  expect(readRecord(recordText(made), sha256)).toMatchObject({ ok: true, value: { together }, warnings: [] });
  const wrong = recordText(made).replace('"healthy": true', '"healthy": "yes"');
  expect(readRecord(wrong, sha256)).toMatchObject({ ok: false });
});

test.each([
  ['a reading in the fold', (text: string) => text.replace('"declared": false', '"declared": true')],
  ['a number in an event', (text: string) => text.replace('"volts": 9.1', '"volts": 9.2')],
])('an edit of %s shows', (_, edit) => {
  const text = recordText(record());
  expect(edit(text)).not.toBe(text);
  expect(readRecord(edit(text), sha256)).toMatchObject({ ok: true, warnings: [{ code: 'record/edited' }] });
});

test('an event taken out shows, with its number', () => {
  const made = record();
  const cut = { ...made, entries: made.entries.toSpliced(4, 1) };
  const read = readRecord(recordText(cut), sha256);
  expect(read).toMatchObject({ ok: true, warnings: [{ code: 'record/edited' }] });
  expect(read.ok && read.warnings[0]?.message).toContain('event 5');
});

test.each([
  ['record/not-json', '{"format": "kitwright-record/1", "ent'],
  ['record/not-a-record', '{"format": "something/1"}'],
  ['record/not-a-record', '{"format": "kitwright-record/1"}'],
  ['record/other-format', '{"format": "kitwright-record/2"}'],
  ['record/too-deep', '['.repeat(40_000)],
])('refuses with %s', (code, text) => {
  expect(readRecord(text, sha256)).toMatchObject({ ok: false, problems: [{ code }] });
});

test('refuses what is too large before parsing it', () => {
  const text = ' '.repeat(64 * 1024 * 1024 + 1);
  expect(readRecord(text, sha256)).toMatchObject({ ok: false, problems: [{ code: 'record/too-large' }] });
});

test('brackets inside texts do not count as nesting', () => {
  const { seal: _, format: __, ...content } = record();
  const made = makeRecord({ ...content, app: `"${'['.repeat(100)}\\` }, sha256);
  if (made === null) throw new Error('no form');
  expect(readRecord(recordText(made), sha256)).toMatchObject({ ok: true, warnings: [] });
});
