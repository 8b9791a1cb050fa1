import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { InstrumentDesk } from '../../../electron/instruments/instrument-desk.ts';
import type { BuildSession } from '../../../electron/services/build-session.ts';
import { instrumentHandlers } from '../../../electron/services/instrument-handlers.ts';
import { prepareReading } from '../../../electron/services/prepare-reading.ts';
import type { ReadingDesk } from '../../../electron/services/prepare-reading.ts';
import type { ServiceContext } from '../../../electron/services/service-context.ts';
import { callSchemas } from '../../../shared-core/contract/schemas.ts';
import { initialSettings } from '../../../shared-core/contract/settings.ts';
import { fail, succeed } from '../../../shared-core/problem/problem.ts';
import type { RecordedInstrument } from '../../../shared-core/safety/instrument.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { withInstrument } from '../../helpers/safety/instrument-scenarios.ts';
import { finch } from '../../helpers/finch.ts';
import { SimulatedMeter } from '../../helpers/simulated-meter/simulated-meter.ts';

const build = '11111111-1111-4111-8111-111111111111';
let meter: SimulatedMeter;
let desk: InstrumentDesk;
beforeEach(async () => {
  meter = new SimulatedMeter();
  Object.assign(meter.face, { function: 'VOLT:AC', shows: 243.4 });
  await meter.plugIn();
  desk = new InstrumentDesk({ settingMs: 300, readingMs: 300 });
});
afterEach(async () => {
  desk.close();
  await meter.unplug();
});

/** The calls on Finch, live on the lamp, as recorded; only the journal and its files are left out. */
function callsWith(change: Partial<RecordedInstrument> = {}, isKnown = true) {
  const amp = withInstrument(change)(rulebook);
  const readings = amp.facts.readings.map(({ id, measure }) => ({ id, measure }));
  const session = {
    build: { safety: amp.safety() },
    currentFacts: amp.facts,
    parts: { stamp: () => amp.clock.now(), source: { chosen: { readings } } },
  } as unknown as BuildSession;
  const known = {
    address: { kind: 'tcp', host: '127.0.0.1', port: meter.port },
    identity: meter.face.identity,
    name: 'LARKFIELD DM-1',
    isolated: true,
    earthVolts: 500,
  } as const;
  return instrumentHandlers({
    shelf: { session: () => Promise.resolve(succeed(session)) },
    settings: { get: () => ({ ...initialSettings, instruments: isKnown ? [known] : [] }) },
    instruments: desk,
  } as unknown as ServiceContext);
}

const look = (calls: ReturnType<typeof callsWith>, reading: string) =>
  calls['instrument.look']({ build, reading, identity: meter.face.identity });

describe('looking at an instrument', () => {
  test('brings its number, its words and where it came from, and writes nothing', async () => {
    expect(await look(callsWith(), 'ht-ac')).toEqual({
      kind: 'shows',
      text: '243.4',
      words: '243.4\u202fV AC · 1\u202fkV range',
      taken: { instrument: meter.face.identity, reply: '+2.43400000E+02', function: 'VOLT:AC', range: 1000 },
    });
  });

  test.each([
    [
      'one that is not isolated, where a probe may meet 400 V',
      { isolated: false },
      'safety/instrument-volts',
    ],
    ['one that this build does not know', { identity: 'another,one,1,1' }, 'safety/instrument-not-recorded'],
  ] as const)('is refused before a word is sent: %s', async (_, change, code) => {
    const outcome = await look(callsWith(change), 'ht-ac');
    expect(outcome).toMatchObject({ kind: 'refused', refusals: [{ code }] });
    expect(meter.asked).toEqual([]);
  });

  test('is refused for a proof, and for a condition that the amplifier is not in', async () => {
    const codes = async (reading: string) => {
      const outcome = await look(callsWith(), reading);
      return outcome.kind === 'refused' ? outcome.refusals.map(({ code }) => code) : [];
    };
    expect(await codes('earth')).toContain('safety/by-hand-only');
    expect(await codes('b1-unloaded')).toContain('safety/wrong-condition');
    expect(meter.asked).toEqual([]);
  });

  test('says what is the matter with the meter, as data', async () => {
    meter.face.function = 'RES';
    expect(await look(callsWith(), 'ht-ac')).toMatchObject({
      kind: 'problem',
      problems: [{ code: 'instrument/other-function' }],
    });
    expect(await look(callsWith({}, false), 'ht-ac')).toMatchObject({
      kind: 'problem',
      problems: [{ code: 'instrument/not-known' }],
    });
    expect(await look(callsWith(), 'insulation')).toMatchObject({
      kind: 'problem',
      problems: [{ code: 'call/arguments' }],
    });
  });
});

describe('an entry that says it came from an instrument', () => {
  const taken = { instrument: 'x', reply: '+2.43400000E+02', function: 'VOLT:AC', range: 1000 };
  const readingDesk = {
    chosen: { name: 'Finch', readings: [{ id: 'ht-ac', measure: 'ac volts', in: 'lamp' }] },
    facts: () => finch,
    predict: () => Promise.resolve(fail({ code: 'predict/failed', severity: 'error', message: '' })),
  } as unknown as ReadingDesk;
  const prepare = (typed: string) =>
    prepareReading(readingDesk, {
      kind: 'enter-reading',
      reading: 'ht-ac',
      typed,
      by: 'hand',
      corrects: null,
      instrument: taken,
    });

  test('is taken only as the instrument sent it', async () => {
    expect(await prepare('243.4')).toMatchObject({ ok: true });
    expect(await prepare('24.34')).toMatchObject({ ok: false, problems: [{ code: 'call/arguments' }] });
  });
});

describe('the address of an instrument', () => {
  const find = (address: object) => callSchemas['instrument.find'].safeParse({ address }).success;
  const serial = { kind: 'serial', path: '/dev/ttyUSB0', baudRate: null, frame: '8N1' };

  test('is a serial device or a host and port', () => {
    expect(find(serial)).toBe(true);
    expect(find({ ...serial, path: 'COM12' })).toBe(true);
    expect(find({ kind: 'tcp', host: 'meter.local', port: 5025 })).toBe(true);
    expect(find({ kind: 'tcp', host: 'fe80::1', port: 5025 })).toBe(true);
  });

  test.each([
    { ...serial, path: '/etc/passwd' },
    { ...serial, path: '/dev/../etc/passwd' },
    { ...serial, baudRate: 1 },
    { ...serial, frame: '5N1' },
    { kind: 'tcp', host: 'a b', port: 5025 },
    { kind: 'tcp', host: '10.0.0.1', port: 0 },
  ])('is not %j', (address) => {
    expect(find(address)).toBe(false);
  });
});
