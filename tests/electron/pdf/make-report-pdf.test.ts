import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeReportPdf } from '../../../electron/pdf/make-report-pdf.ts';
import { makeReport } from '../../../shared-core/report/make-report.ts';
import type {
  ReportBlock,
  ReportDocument,
  ReportTable,
} from '../../../shared-core/report/report-document.ts';
import { findOnPath, thisMachine } from '../../helpers/find-browser.mjs';
import { readPdfWith as run } from '../../helpers/pdf-text.ts';
import { finchRecord, troubledFinch } from '../../helpers/report-source.ts';

const folder = mkdtempSync(join(tmpdir(), 'kitwright-pdf-'));
const record = finchRecord(troubledFinch());
const report = makeReport(record);
let bytes: Uint8Array;
let text: string;

beforeAll(async () => {
  bytes = await makeReportPdf(report);
  text = textOf(bytes);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fileOf(pdf: Uint8Array): string {
  const path = join(folder, 'report.pdf');
  writeFileSync(path, pdf);
  return path;
}

/** The text that can be selected, one page after the other, as a reader would copy it. */
function textOf(pdf: Uint8Array, layout = true): string {
  return run('pdftotext', ...(layout ? ['-layout'] : []), fileOf(pdf), '-');
}

function pagesOf(pdf: Uint8Array): readonly string[] {
  return textOf(pdf).split('\f').slice(0, -1);
}

/** Text as one line with plain spaces: pdftotext breaks lines where the page does. */
function flat(words: string): string {
  return words.replaceAll(/\s+/g, ' ');
}

/** The same report with one section only. */
function withOnly(blocks: readonly ReportBlock[]): ReportDocument {
  return { ...report, sections: [{ id: 'only', heading: 'Only', blocks }] };
}

function tableOf(rows: number, lines: number): ReportTable {
  return {
    kind: 'table',
    title: 'A long table',
    rowHeading: 0,
    columns: [
      { heading: 'Left heading', share: 1 },
      { heading: 'Right heading', share: 1 },
    ],
    rows: Array.from({ length: rows }, (_, row) => ({
      kind: 'cells' as const,
      cells: [0, 1].map((column) => ({
        lines: Array.from({ length: lines }, (__, line) => ({
          text: `r${row}c${column}n${line}e`,
          style: 'plain' as const,
        })),
      })),
    })),
  };
}

describe('makeReportPdf', () => {
  it('gives equal bytes for equal input, also from a record that was written and read', async () => {
    expect(Buffer.from(await makeReportPdf(report)).equals(Buffer.from(bytes))).toBe(true);
    const read = JSON.parse(JSON.stringify(record)) as typeof record;
    expect(Buffer.from(await makeReportPdf(makeReport(read))).equals(Buffer.from(bytes))).toBe(true);
  });

  it('has only the record’s time in it', () => {
    const info = run('pdfinfo', '-isodates', fileOf(bytes));
    expect(info).toContain(`CreationDate:    ${record.build.lastAt?.slice(0, 19)}`);
  });

  it('holds every reading with its title, id and value as text that can be selected', () => {
    const all = flat(text);
    for (const { id, title } of record.kit.readings) {
      expect(all).toContain(title);
      expect(all).toContain(id);
    }
    for (const value of ['251.5 V', '312 V', '1.5 kΩ', '100 Ω']) expect(all).toContain(value);
  });

  it('prints Ω, µ, ±, ≤, − and curly quotes as themselves', () => {
    const all = flat(textOf(bytes, false));
    expect(all).toContain('The bleeder is 1.5 kΩ ± 5 %, ≤ 2 W by the maker’s letter');
    expect(all).toContain('12 µA of leakage');
    expect(all).toContain('±1 %');
    expect(all).toContain('−');
  });

  it('embeds every font, as a subset with a map back to Unicode', () => {
    const fonts = run('pdffonts', fileOf(bytes)).trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThanOrEqual(3);
    for (const font of fonts) {
      expect(font).toContain('DejaVuSans');
      expect(font).toMatch(/yes yes yes/);
    }
  });

  it('is tagged: headings, tables with header cells, lists, figures; language and title are set', () => {
    expect(run('pdfinfo', fileOf(bytes))).toMatch(/Tagged:\s+yes/);
    expect(run('pdfinfo', fileOf(bytes))).toContain('Title:           Finch, build report');
    const tree = run('pdfinfo', '-struct', fileOf(bytes));
    for (const tag of ['Document', 'Sect', 'H1', 'H2', 'P', 'L', 'LI', 'Table', 'TR', 'TH', 'TD', 'Figure']) {
      expect(tree, tag).toMatch(new RegExp(`^\\s*${tag}\\b`, 'm'));
    }
    const raw = Buffer.from(bytes).toString('latin1');
    expect(raw).toContain('/Scope /Column');
    expect(raw).toContain('/Scope /Row');
    expect(raw).toContain('/Lang (en-GB)');
    expect(raw).toContain('/DisplayDocTitle true');
    for (const alt of ['Voltage of C1 after the plug came out', 'Deviation of 4 readings'])
      expect(raw).toContain(`/Alt (${alt}`);
  });

  it('leaves running heads and page numbers out of the structure', () => {
    const tree = run('pdfinfo', '-struct-text', fileOf(bytes));
    expect(tree).toContain('Title of ht-ac');
    expect(tree).not.toContain('build report · J. M.');
    expect(tree).not.toMatch(/Page 1 of/);
  });

  it('numbers its pages, and none of them is blank', () => {
    const pages = pagesOf(bytes);
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((words, index) => {
      expect(words).toContain(`Page ${index + 1} of ${pages.length}`);
      // Head, foot and number alone are under 130 characters.
      expect(flat(words).length).toBeGreaterThan(250);
    });
  });

  it('never divides a row, and repeats the head of the table on every page', async () => {
    const pages = pagesOf(await makeReportPdf(withOnly([tableOf(60, 5)])));
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) expect(page).toContain('Left heading');
    for (let row = 0; row < 60; row += 1) {
      const on = pages.filter((page) => page.includes(`r${row}c`));
      expect(on, `row ${row}`).toHaveLength(1);
      for (let line = 0; line < 5; line += 1) expect(on[0]).toContain(`r${row}c1n${line}e`);
    }
  });

  it('loses no line of a row that is higher than a page', async () => {
    const all = textOf(await makeReportPdf(withOnly([tableOf(2, 130)])));
    for (const row of [0, 1])
      for (let line = 0; line < 130; line += 1) expect(all).toContain(`r${row}c0n${line}e`);
  });

  it('loses no word of a text that runs over several pages', async () => {
    const words = Array.from({ length: 4000 }, (_, index) => `w${index}w`);
    const all = flat(
      textOf(await makeReportPdf(withOnly([{ kind: 'paragraph', text: words.join(' ') }])), false),
    );
    expect(words.filter((word) => !all.includes(word))).toEqual([]);
  });

  it('breaks a word that is wider than the page', async () => {
    const word = 'abcdefghij'.repeat(40);
    const all = textOf(await makeReportPdf(withOnly([{ kind: 'paragraph', text: word }])), false);
    expect(all.replaceAll(/\s/g, '')).toContain(word);
  });

  it('names a character that no font has, and lists it at the end', async () => {
    const missing: string[] = [];
    const pdf = await makeReportPdf(
      withOnly([{ kind: 'paragraph', text: 'V3 from 中国, bent \u0007pin ⏚' }]),
      {
        onMissingGlyphs: (characters) => missing.push(...characters),
      },
    );
    const all = flat(textOf(pdf, false));
    expect(all).toContain('V3 from [U+4E2D][U+56FD], bent pin [U+23DA]');
    expect(all).toContain('printed by their Unicode names: [U+23DA], [U+4E2D], [U+56FD].');
    expect(missing).toEqual(['⏚', '中', '国']);
  });

  it.skipIf(!findOnPath(thisMachine(), 'qpdf'))('is found sound by qpdf', () => {
    expect(run('qpdf', '--check', fileOf(bytes))).toContain('No syntax or stream encoding errors found');
  });
});
