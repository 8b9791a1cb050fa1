import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { main } from '../../../electron/cli/main.ts';
import type { GatherReport } from '../../../shared-core/feedback/gather-report.ts';
import { recordText } from '../../../shared-core/journal/build-record.ts';
import { bandOf, fleetRecord, fleetRecordText, smallKit } from '../../helpers/fleet-records.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { finchRecord, troubledFinch } from '../../helpers/report-source.ts';

afterAll(removeFolders);

const folder = newFolder();
const out = join(folder, 'out');
let report: GatherReport;
let text: string;
let code: number;

async function run(...argv: readonly string[]) {
  let [out, err] = ['', ''];
  const code = await main(argv, {
    out: (said) => (out += said.normalize('NFKC')),
    err: (said) => (err += said.normalize('NFKC')),
    env: {},
    platform: 'linux',
    home: '/nobody',
    cwd: folder,
  });
  return { code, out, err };
}

/** b1-cold at these values, in a band of 100 ± 10 kΩ (one deviation). */
function builder(number: number, ...values: readonly number[]) {
  const verdicts = values.map((value) =>
    Math.abs(value - 100e3) > 31e3 ? ('out of band' as const) : ('as expected' as const),
  );
  return {
    number,
    readings: { 'b1-cold': { values, verdicts, band: bandOf(100e3, 10e3) } },
    steps: { 'wire-ht': 600 + number, 'cold-read': 60 },
  };
}

beforeAll(async () => {
  const records = join(folder, 'records');
  mkdirSync(join(records, 'deeper'), { recursive: true });
  const write = (name: string, content: string): void => writeFileSync(join(records, name), content);
  for (const number of [1, 2, 3, 4, 5])
    write(`b${number}.json`, fleetRecordText(builder(number, 100e3 + 1e3 * number)));
  write('deeper/b6.json', fleetRecordText(builder(6, 10, 100e3)));
  // The same build again, longer: it counts, the shorter one is named.
  write('z-longer.json', fleetRecordText({ ...builder(1, 101e3), notes: ['more'] }));
  write('z-shorter.json', fleetRecordText(builder(2, 102e3)));
  const sound = fleetRecordText(builder(8, 99e3));
  write('cut-file.json', sound.slice(0, sound.length - 200));
  const record = fleetRecord(builder(9, 99e3));
  write('cut-chain.json', recordText({ ...record, entries: record.entries.slice(0, -1) }));
  write('edited.json', fleetRecordText(builder(10, 99e3)).replaceAll('"A. B."', '"C. D."'));
  write('damaged.json', '{"half');
  write('other-kit.json', fleetRecordText({ ...builder(11, 1), kit: { ...smallKit, id: 'wren' } }));
  write('other-format.json', JSON.stringify({ format: 'kitwright-record/9' }));
  write('strange.json', JSON.stringify({ hello: 1 }));
  write('practice.json', '{"format":"kitwright-practice/1","build":"x"}\n');
  write('simulated.json', fleetRecordText({ ...builder(12, 150e3), made: 'simulated' }));
  write('readme.txt', 'no record');
  const spoken = await run('gather', 'records', '--out', 'out');
  ({ out: text, code } = spoken);
  report = JSON.parse(readFileSync(join(out, 'gather.json'), 'utf8')) as GatherReport;
});

describe('gathering a folder of records', () => {
  test('sets aside each record that is none, with its name and reason, and says so by its exit code', () => {
    const aside = Object.fromEntries(
      report.aside.map(({ file, reason }) => [file.replace(/^records./, ''), reason]),
    );
    expect(aside).toEqual({
      'b1.json': 'duplicate',
      'z-shorter.json': 'duplicate',
      'cut-file.json': 'cut',
      'cut-chain.json': 'cut',
      'edited.json': 'edited',
      'damaged.json': 'damaged',
      'other-kit.json': 'foreign',
      'other-format.json': 'foreign',
      'strange.json': 'foreign',
      'practice.json': 'practice',
    });
    expect(code).toBe(1);
    for (const { file, why } of report.aside) {
      expect(text).toContain(file);
      expect(why).not.toBe('');
    }
  });

  test('counts every other record once, simulated ones apart, and loses none', () => {
    expect([report.counted, report.simulated, report.aside.length, report.files]).toEqual([6, 1, 10, 17]);
    expect(report.otherFiles).toBe(1);
    expect(report.revisions.map(({ builds, simulated }) => [builds, simulated])).toEqual([
      [6, false],
      [1, true],
    ]);
  });

  test('takes the longer chain of a build that came twice', () => {
    expect(report.revisions[0]?.notes).toEqual([{ name: 'more', count: 1 }]);
    expect(report.revisions[0]?.readings.find(({ id }) => id === 'b1-cold')?.taken).toBe(6);
  });

  test('reads the median of the first numbers, the errors of builders and the drift without them', () => {
    const own = report.revisions[0]?.readings.find(({ id }) => id === 'b1-cold');
    // First numbers 10, 101, 102, 103, 104, 105 kΩ: the median is 102.5 kΩ.
    expect(own?.values?.median).toBe(102.5e3);
    expect(own?.outOfBand).toMatchObject({ count: 1, of: 6 });
    // 101 … 105 kΩ are 0.1 … 0.5 deviations up; in half-bands their mean is 0.3 / 2.3263.
    expect(own?.drift?.mean).toBeCloseTo(0.3 / 2.3263, 9);
    expect(own?.drift).toMatchObject({ count: 5, outliers: 1, finding: 'none' });
    expect(own?.again).toBe(1);
  });

  test('reads the median time of a step', () => {
    const step = report.revisions[0]?.steps.find(({ id }) => id === 'wire-ht');
    expect(step?.seconds).toEqual({ count: 6, lower: 602.25, median: 603.5, upper: 604.75 });
  });

  test('marks simulated records in every output', () => {
    expect(text).toContain('SIMULATED');
    const csv = readFileSync(join(out, 'readings.csv'), 'utf8').split('\r\n');
    expect(csv.filter((line) => line.includes(',true,'))).not.toHaveLength(0);
    expect(report.revisions[1]?.simulated).toBe(true);
  });

  test('writes tables and a PDF', () => {
    expect(readdirSync(out).toSorted()).toEqual([
      'covariates.csv',
      'fault-points.csv',
      'first-run-report.pdf',
      'gather.json',
      'parameter-changes.csv',
      'readings.csv',
      'set-aside.csv',
      'steps.csv',
      'words.csv',
    ]);
    expect(readFileSync(join(out, 'first-run-report.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
  });

  test('is fine with sound records alone, given one by one', async () => {
    const { code, out } = await run('gather', 'records/b3.json', 'records/b4.json', '--json');
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ counted: 2, aside: [], kit: 'finch' });
  });

  test('reads a whole record of a build that had trouble', async () => {
    writeFileSync(join(folder, 'trouble.json'), recordText(finchRecord(troubledFinch())));
    const { code, out } = await run('gather', 'trouble.json', '--json');
    expect(code).toBe(0);
    const [own] = (JSON.parse(out) as GatherReport).revisions;
    expect(own?.causes).toEqual([{ name: 'The transformer’s taps were exchanged', count: 1 }]);
    expect(own?.readings.find(({ id }) => id === 'ht-ac')).toMatchObject({ taken: 1, stop: { count: 1 } });
    expect(own?.faultPoints.some(({ id }) => id === 'ht-ac')).toBe(true);
    expect(own?.readings.find(({ id }) => id === 'b2-cold')?.reasons).toHaveLength(1);
  });

  test('cannot gather from a folder that is not there, or that has no record', async () => {
    const [gone, empty] = [await run('gather', 'nowhere'), await run('gather', newFolder())];
    expect([gone.code, empty.code]).toEqual([2, 2]);
    expect(empty.err).toContain('no record');
  });
});
