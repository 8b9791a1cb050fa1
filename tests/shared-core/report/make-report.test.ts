import { describe, expect, it } from 'vitest';
import type { BuildRecord } from '../../../shared-core/journal/build-record.ts';
import { makeReport } from '../../../shared-core/report/make-report.ts';
import type {
  Fact,
  ReportBlock,
  ReportDocument,
  ReportTable,
} from '../../../shared-core/report/report-document.ts';
import { scriptBuild } from '../../helpers/scripted-build.ts';
import { finch } from '../../helpers/finch.ts';
import { finchRecord, troubledFinch } from '../../helpers/report-source.ts';

const record = finchRecord(troubledFinch());
const report = makeReport(record);

function blocks(document: ReportDocument, section: string): readonly ReportBlock[] {
  const found = document.sections.find(({ id }) => id === section);
  if (found === undefined) throw new Error(`no section ${section}`);
  return found.blocks;
}

function factOf(document: ReportDocument, section: string, name: string): Fact | undefined {
  return blocks(document, section)
    .flatMap((block) => (block.kind === 'facts' ? block.facts : []))
    .find((fact) => fact.name === name);
}

function tables(document: ReportDocument, section: string): readonly ReportTable[] {
  return blocks(document, section).filter((block) => block.kind === 'table');
}

/** The texts of every row of cells, cell by cell. */
function rowsOf(table: ReportTable | undefined): readonly (readonly string[])[] {
  return (table?.rows ?? []).flatMap((row) =>
    row.kind === 'cells' ? [row.cells.map(({ lines }) => lines.map(({ text }) => text).join('\n'))] : [],
  );
}

function storyOf(document: ReportDocument): readonly { readonly text: string; readonly energy: string }[] {
  return blocks(document, 'story').flatMap((block) => (block.kind === 'story' ? block.lines : []));
}

describe('makeReport', () => {
  it('is plain JSON: it survives being written and read', () => {
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it('says what the readings are taken together, and the figures behind it', () => {
    const words = 'Taken together, these 7 readings are unlikely in a healthy amplifier: …';
    const together = {
      healthy: false,
      distance: 6.24,
      limit: 4.5,
      readings: 7,
      standsOut: 'ht-ac',
      side: 'higher',
      words,
    } as const;
    const own = makeReport({ ...record, together });
    expect(factOf(own, 'summary', 'Readings taken together')).toMatchObject({ text: words, strong: true });
    const texts = blocks(own, 'readings').flatMap((block) =>
      block.kind === 'paragraph' ? [block.text] : [],
    );
    expect(texts).toContain(words);
    expect(texts.join(' ')).toMatch(/rests on 7 readings: .* is 6\.2; 98 of 100 .* within 4\.5\./);
    expect(factOf(report, 'summary', 'Readings taken together')?.text).toBe('not computed');
  });

  it('says which kit, revision and hash, who built it, when and with which version', () => {
    const texts = Object.fromEntries(report.titleBlock.map(({ name, text }) => [name, text]));
    expect(texts).toMatchObject({
      Kit: 'Finch, revision A',
      Maker: 'Larkfield Radio Works',
      Builder: 'J. M.',
      Begun: '7 Mar 2026, 09:00',
      'Written by': 'Kitwright 0.1.0',
      'Kit file, SHA-256': 'finch-a',
    });
    expect(report.recordedAt).toBe(record.build.lastAt);
  });

  it('defers to local codes and licensed practice, and calls itself no compliance assessment', () => {
    const [notice] = blocks(report, 'safety');
    const text = notice?.kind === 'notice' ? notice.paragraphs.join(' ') : '';
    expect(text).toContain('not a compliance assessment');
    expect(text).toMatch(/Local codes .* licensed person/);
  });

  it('has a row for every reading of the kit, taken or not', () => {
    const [table] = tables(report, 'readings');
    const rows = rowsOf(table);
    expect(rows).toHaveLength(finch.readings.length);
    for (const { id } of finch.readings)
      expect(rows.some(([, name]) => name?.includes(`Title of ${id}`))).toBe(true);
    expect(rows.find(([, name]) => name?.includes('Title of b1-unloaded'))?.[4]).toBe('not taken');
  });

  it('keeps the first number of a reading that was taken again, and every number as it was typed', () => {
    const [table, repeated] = tables(report, 'readings');
    const row = rowsOf(table).find(([, name]) => name?.includes('Title of ht-ac'));
    expect(row?.[4]).toBe('251.5\u202fV\nfirst 312\u202fV');
    expect(row?.[5]).toContain('as expected');
    const all = rowsOf(repeated).find(([, name]) => name === 'Title of ht-ac');
    expect(all?.[3]).toBe('312\n251.5');
    expect(all?.[5]).toBe('stop\nas expected');
  });

  it('counts what was accepted, with its reason', () => {
    expect(factOf(report, 'summary', 'Accepted with a reason')).toMatchObject({ strong: true });
    expect(factOf(report, 'summary', 'Accepted with a reason')?.text).toMatch(
      /^1 reading out of band: .*bleeder/,
    );
    const row = rowsOf(tables(report, 'readings')[0]).find(([, name]) => name?.includes('Title of b2-cold'));
    expect(row?.[5]).toContain('out of band');
    expect(row?.[5]).toContain('accepted');
  });

  it('says in capitals that insulation was NOT tested', () => {
    expect(factOf(report, 'summary', 'Insulation at 500 V')).toMatchObject({ strong: true });
    expect(factOf(report, 'summary', 'Insulation at 500 V')?.text).toContain('NOT tested');
  });

  it('tells stop, plug, proof, repair, lapse and signature in the order they happened', () => {
    const texts = storyOf(report).map(({ text }) => text);
    const order = [
      'Plug in: Condition lamp.',
      'Title of ht-ac: 312\u202fV, stop.',
      'Plug out and in sight after 25\u202fs. 1 reading taken: stop.',
      'Proven dead: C1 and C2 measured below 30 V',
      'Repaired: The transformer’s taps were exchanged.',
      'Plug in: Condition lamp.',
      'Title of ht-ac, read again: 251.5\u202fV, as expected.',
      'The app had been closed',
      'Proven dead',
      'Signed by J. M.',
    ];
    let from = 0;
    for (const start of order) {
      const index = texts.findIndex((text, at) => at >= from && text.startsWith(start));
      expect(index, start).toBeGreaterThanOrEqual(from);
      from = index + 1;
    }
  });

  it('shows the energy state that each line of the story left behind', () => {
    const energyAfter = (start: string): string | undefined =>
      storyOf(report).find(({ text }) => text.startsWith(start))?.energy;
    expect(energyAfter('Build begun')).toBe('dead');
    expect(energyAfter('Plug in')).toBe('live');
    expect(energyAfter('Title of ht-ac: 312')).toBe('live');
    expect(energyAfter('Plug out')).toBe('draining');
    expect(energyAfter('The app had been closed')).toBe('draining');
    expect(storyOf(report).at(-1)?.energy).toBe(record.build.safety.energy.kind);
  });

  it('sets every look at a store beside the curves of that moment', () => {
    const looks = rowsOf(tables(report, 'drain')[1]);
    expect(looks).toHaveLength(
      record.build.drains.flatMap(({ looks }) => [...new Set(looks.map(({ store }) => store))]).length,
    );
    const drain = record.build.drains.findIndex(({ looks: all }) => all.some(({ volts }) => volts === 170));
    expect(drain).toBeGreaterThanOrEqual(0);
    const row = looks.find(([, first]) => first?.startsWith('170'));
    // Ten seconds after the plug C1 falls from 340 V: fast with 10 s, likely with 20 s, slow with 40 s.
    expect(row?.[1]).toBe('170\u202fV at 10\u202fs');
    expect(row?.[2]).toBe('fast 130\u202fV, likely 210\u202fV, slow 260\u202fV');
  });

  it('draws a drain plot for every store and one plot of all deviations', () => {
    const figures = (section: string) =>
      blocks(report, section).flatMap((block) => (block.kind === 'figures' ? block.figures : []));
    expect(figures('drain')).toHaveLength(finch.stores.length);
    expect(figures('deviations').map(({ scene }) => scene.title)).toEqual([
      'Deviation of 4 readings, each measured in its own band: 3 inside, 1 outside',
    ]);
  });

  it('lists cautions with each time they were acknowledged', () => {
    const [table] = tables(report, 'cautions');
    const lamp = rowsOf(table).find(([text]) => text === 'One hand. Nobody alone.');
    expect(lamp?.[1]?.match(/\d\d:\d\d/g)).toHaveLength(2);
  });

  it('never needs the kit: the record alone, written and read, gives the same report', () => {
    const again = JSON.parse(JSON.stringify(record)) as BuildRecord;
    expect(makeReport(again)).toEqual(report);
  });

  it('prints what does not hold in the record', () => {
    const flawed = makeReport({ ...record, build: { ...record.build, refusedEntries: [7] } }, [
      'event 9: its content was changed',
    ]);
    const fact = factOf(flawed, 'summary', 'This record');
    expect(fact?.text).toContain('event 9');
    expect(fact?.text).toContain('no. 7');
    expect(storyOf(flawed).some(({ text }) => text.startsWith('Entry 7 '))).toBe(true);
  });

  it('says so when steps were declared and not witnessed', () => {
    const { header } = record;
    const build = scriptBuild({ facts: finch, header, startedFrom: 'assembled' });
    build.do('declared-assembled');
    const declared = makeReport(finchRecord(build));
    const list = blocks(declared, 'declared').find((block) => block.kind === 'list');
    expect(list?.kind === 'list' ? list.items : []).toContain('Step wire-mains');
    expect(factOf(declared, 'summary', 'Energy state at the end')?.text).toContain('NOT proven');
  });

  it('makes a report of a build that has only begun', () => {
    const begun = makeReport(finchRecord(scriptBuild({ facts: finch, header: record.header })));
    expect(factOf(begun, 'summary', 'Readings')?.text).toBe(`0 of ${finch.readings.length} taken: none`);
    expect(begun.titleBlock.find(({ name }) => name === 'Builder')?.text).toBe('not signed yet');
  });
});
