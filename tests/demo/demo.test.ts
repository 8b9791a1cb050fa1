import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { sha256 } from '../../electron/files/sha256.ts';
import { reportPdfOf } from '../../electron/services/report-pdf.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { foldBuild, initialBuild } from '../../shared-core/journal/fold-build.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import { isStepHeld } from '../../shared-core/safety/lookup.ts';
import { readPdfWith } from '../helpers/pdf-text.ts';
import { mustHave } from './hand.ts';
import { main } from './main.ts';

const folder = mkdtempSync(join(tmpdir(), 'kitwright-demo-test-'));
let said: string[];
let record: BuildRecord;
let code: number;

// Four benches of predictions with bands, about three seconds each on a slow machine.
beforeAll(async () => {
  said = [];
  const log = vi.spyOn(console, 'log').mockImplementation((line: unknown) => said.push(String(line)));
  code = await main([folder]);
  log.mockRestore();
  record = mustHave(readRecord(readFileSync(join(folder, 'heron.kitwright.json'), 'utf8'), sha256));
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the demo', () => {
  it('writes a record that opens without a flaw', () => {
    expect(code).toBe(0);
    expect(readRecord(readFileSync(join(folder, 'heron.kitwright.json'), 'utf8'), sha256)).toMatchObject({
      ok: true,
      warnings: [],
    });
  });

  it('has every entry accepted by the rules, and ends signed and proven dead', () => {
    const { build } = record;
    expect(build.refusedEntries).toEqual([]);
    expect(build.signature?.name).toBe('J. M.');
    expect(build.safety.energy).toMatchObject({ kind: 'dead', proof: 'measured' });
    const open = record.facts.steps.filter((step) => !isStepHeld(step, build.safety, record.facts));
    expect(open.map(({ id }) => id)).toEqual([]);
  });

  it('has a wrong reading, a stop, repairs and a resume, after which nothing counted as proven', () => {
    const { build, entries } = record;
    expect(build.readings['v1b-cathode-cold']?.entries.map(({ verdict }) => verdict)[0]).toBe('out of band');
    expect(build.stops.map(({ reading }) => reading)).toEqual(['v2-cathode']);
    expect(build.readings['v2-cathode']).toMatchObject({ verdict: 'as expected', settled: 'settled' });
    expect(build.repairs.length).toBeGreaterThanOrEqual(2);
    const resumed = entries.find(({ event }) => event.kind === 'run-started');
    expect(build.drains.find(({ why }) => why === 'closed')).toMatchObject({
      seq: resumed?.seq,
      timeKnown: false,
    });
  });

  it('folds again, entry by entry, to the same energy state', () => {
    const again = record.entries.reduce(
      (build, entry) => foldBuild(build, entry, record.facts),
      initialBuild(record.header),
    );
    expect(again.safety.energy).toEqual(record.build.safety.energy);
    expect(again.refusedEntries).toEqual([]);
  });

  it('tells the energy state beside every line of the story', () => {
    const lines = said.flatMap((line) => line.split('\n')).filter((line) => /^ {2}\d\d:\d\d/.test(line));
    expect(lines.length).toBeGreaterThan(100);
    for (const line of lines) expect(line).toMatch(/^ {2}\d\d:\d\d {2}(dead|LIVE|draining) +\S/);
    const stop = lines.findIndex((line) => line.includes('13.4\u202fV, stop'));
    expect(lines[stop]).toContain('LIVE');
    expect(lines[stop + 1]).toMatch(/draining +Plug out/);
    expect(lines[stop + 2]).toMatch(/dead +Proven dead/);
  });

  it('writes a PDF with every reading’s title and value, equal to the report of the record', async () => {
    const pdf = readFileSync(join(folder, 'heron.pdf'));
    expect(pdf.equals(Buffer.from(await reportPdfOf(record, [])))).toBe(true);
    const text = readPdfWith('pdftotext', '-layout', join(folder, 'heron.pdf'), '-');
    const all = text.replaceAll(/\s+/g, ' ');
    for (const { id, unit } of record.kit.readings) {
      const last = record.build.readings[id]?.entries.at(-1)?.entry;
      if (last === undefined) continue;
      const value = last.kind === 'overload' ? 'OL' : formatQuantity(last.value, unit).replaceAll(/\s/g, ' ');
      expect(all, id).toContain(value);
      expect(all, id).toContain(id);
    }
  });
});
