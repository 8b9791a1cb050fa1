import type { BuildRecord, RecordKit } from '../../shared-core/journal/build-record.ts';
import { makeRecord } from '../../shared-core/journal/build-record.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { finch, finchBench } from './finch.ts';
import { enter, plugIn, proveDead, showMeter, look } from './journey.ts';
import { scriptBuild, sha256, type ScriptedBuild } from './scripted-build.ts';
import { buildFinch } from './scripted-safety.ts';

/** A healthy band around a value, as it would have been shown. */
export function bandAround(nominal: number, share = 0.1) {
  const at = (part: number): number => nominal * (1 + part * share);
  return { low: at(-1), nominal, high: at(1), lowest: at(-1.3), highest: at(1.3) };
}

/** What a record says of Finch, made from its facts. */
export function finchKit(facts: SafetyFacts = finch): RecordKit {
  return {
    id: 'finch',
    name: 'Finch',
    maker: 'Larkfield Radio Works',
    revision: facts.revision,
    kitHash: facts.kitHash,
    safeVolts: facts.safeVolts,
    conditions: facts.conditions.map(({ id, title }) => ({ id, title: `Condition ${title}` })),
    chapters: [{ id: 'all', title: 'Everything' }],
    steps: facts.steps.map(({ id, chapter }) => ({ id, title: `Step ${id}`, chapter })),
    readings: facts.readings.map(({ id, at, against, measure, in: condition }) => ({
      id,
      title: `Title of ${id}`,
      at,
      against,
      measure,
      unit: measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V',
      in: condition,
    })),
    parts: { C1: 'Reservoir', C2: 'Smoothing', V3: 'Rectifier', F1: 'Mains fuse' },
  };
}

/**
 * A build of Finch with a wrong reading, a stop, a repair and a restart.
 *
 * Cold: `b2-cold` accepted with a reason. On the lamp: `ht-ac` past its stop limit, repaired, read again in band.
 * Closed while draining after that, and proven again.
 */
export function troubledFinch(): ScriptedBuild {
  const header = {
    format: 'kitwright-journal/1',
    build: '00000000-0000-4000-8000-000000000001',
    kit: 'finch',
    revision: finch.revision,
    kitHash: finch.kitHash,
  } as const;
  const build = scriptBuild({ facts: finch, header, choices: { mains: '230 V 50 Hz' } });
  build.do('bench-recorded', { bench: finchBench });
  buildFinch(build);
  enter(build, 'b2-cold', { value: 1500, verdict: 'out of band', band: bandAround(90_000) });
  build.do('verdict-accepted', {
    reading: 'b2-cold',
    reason: 'The bleeder is 1.5 kΩ ± 5 %, ≤ 2 W by the maker’s letter',
  });
  plugIn(build, 'lamp', 'on-lamp');
  build.wait(20);
  enter(build, 'ht-ac', { value: 312, verdict: 'stop', band: bandAround(250) });
  build.wait(5);
  proveDead(build);
  const what = 'The transformer’s taps were exchanged';
  build.do('repaired', { readings: ['ht-ac'], what, places: ['V3.1'] });
  build.do('looked-over');
  for (const reading of ['line', 'earth', 'neutral', 'primary', 'b1-cold']) enter(build, reading);
  if (build.safety().gate.fusesRead.length === 0)
    build.do('fuse-read', { part: 'F1', amps: 0.5, speed: 'T', typed: 'T 500 mA' });
  if (!build.safety().gate.insulationNotTested) build.do('insulation-not-tested');
  plugIn(build, 'lamp');
  build.wait(20);
  enter(build, 'ht-ac', { value: 251.5, band: bandAround(250) });
  build.wait(40);
  build.do('plug-out-confirmed');
  showMeter(build);
  look(build, 'C1', 170);
  build.restart(3600);
  proveDead(build);
  build.do('valve-fitted', {
    socket: 'V3',
    type: 'EZ81',
    brand: 'Ostrava',
    dateCode: 'K7',
    stock: 'old stock',
    label: '',
  });
  build.do('note-written', { about: null, text: 'Smells of new varnish, 12 µA of leakage' });
  build.do('signed', { name: 'J. M.' });
  return build;
}

/** The record of a scripted build of Finch. */
export function finchRecord(build: ScriptedBuild): BuildRecord {
  const record = makeRecord(
    {
      app: '0.1.0',
      kit: finchKit(),
      header: build.header,
      entries: build.entries(),
      build: build.state(),
      facts: finch,
      photos: [],
    },
    sha256,
  );
  if (record === null) throw new Error('the record could not be made');
  return record;
}
