import { describe, expect, it } from 'vitest';
import { recordText } from '../../../shared-core/journal/build-record.ts';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import { makeReport } from '../../../shared-core/report/make-report.ts';
import { tellStory } from '../../../shared-core/report/story.ts';
import { finch, finchBench } from '../../helpers/finch.ts';
import { finchRecord } from '../../helpers/report-source.ts';
import { taken } from '../../helpers/safety/instrument-scenarios.ts';
import { scriptBuild, sha256 } from '../../helpers/scripted-build.ts';

/** An instrument recorded, and one number of it entered. */
function builtWithInstrument(isolated: boolean) {
  const header = {
    format: 'kitwright-journal/1',
    build: '00000000-0000-4000-8000-000000000002',
    kit: 'finch',
    revision: finch.revision,
    kitHash: finch.kitHash,
  } as const;
  const build = scriptBuild({ facts: finch, header });
  build.do('bench-recorded', { bench: finchBench });
  const identity = 'LARKFIELD,DM-1,1024,1.0';
  const recorded = { identity, name: 'LARKFIELD DM-1', address: 'COM3, 8N1', isolated, earthVolts: 500 };
  build.do('instrument-recorded', { instrument: recorded });
  build.do('reading-entered', taken('b2-cold', 90_000));
  return build;
}

function benchFacts(isolated: boolean): readonly string[] {
  const report = makeReport(finchRecord(builtWithInstrument(isolated)));
  const bench = report.sections.find(({ id }) => id === 'bench');
  return (bench?.blocks ?? [])
    .flatMap((block) => (block.kind === 'facts' ? block.facts : []))
    .filter(({ name }) => name === 'On a cable')
    .map(({ text }) => text);
}

describe('an instrument in the report', () => {
  it('stands in the bench with what its insulation is good for', () => {
    expect(benchFacts(true)).toEqual(['LARKFIELD DM-1 (COM3, 8N1), isolated, up to 500\u202fV from earth']);
    expect(benchFacts(false)).toEqual(['LARKFIELD DM-1 (COM3, 8N1), not isolated from earth']);
  });

  it('is told where a number came from it', () => {
    const told = tellStory(finchRecord(builtWithInstrument(true)));
    const texts = told.map(({ text }) => text);
    expect(texts).toContainEqual(expect.stringMatching(/^Instrument: LARKFIELD DM-1/));
    expect(texts).toContainEqual(expect.stringMatching(/b2-cold: 90.kΩ taken from the instrument/));
  });

  it('comes back from a record file as it was, answer and range included', () => {
    const record = readRecord(recordText(finchRecord(builtWithInstrument(true))), sha256);
    expect(record).toMatchObject({ ok: true, warnings: [] });
    const entry = record.ok ? record.value.build.readings['b2-cold']?.entries.at(-1) : undefined;
    expect(entry?.instrument).toEqual(taken('b2-cold').instrument);
  });
});
