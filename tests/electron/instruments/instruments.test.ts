import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { InstrumentDesk } from '../../../electron/instruments/instrument-desk.ts';
import { isLocalAddress } from '../../../electron/instruments/local-address.ts';
import { listSerialPorts, openSerial } from '../../../electron/instruments/open-serial.ts';
import type { InstrumentAddress } from '../../../shared-core/contract/instrument.ts';
import type { Result } from '../../../shared-core/problem/problem.ts';
import { findOnPath, thisMachine } from '../../helpers/find-browser.mjs';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { SerialCable } from '../../helpers/simulated-meter/serial-cable.ts';
import { SimulatedMeter } from '../../helpers/simulated-meter/simulated-meter.ts';

/** Shorter than a builder's patience, longer than this machine's: a round trip takes 3 ms. */
const waits = { settingMs: 300, readingMs: 300 };
const identity = 'LARKFIELD,DM-1,1024,1.0';
const hasSocat = findOnPath(thisMachine(), 'socat') !== null;

function codeOf(result: Result<unknown>): string {
  return result.ok ? 'none' : result.problems[0].code;
}

let meter: SimulatedMeter;
let desk: InstrumentDesk;
beforeEach(async () => {
  meter = new SimulatedMeter();
  await meter.plugIn();
  desk = new InstrumentDesk(waits);
});
afterEach(async () => {
  desk.close();
  await meter.unplug();
});
afterAll(removeFolders);

/** The same for both ways: what a meter on a cable has to survive. */
function behaves(plugIn: () => Promise<InstrumentAddress>, unplug: () => Promise<void>): void {
  let address: InstrumentAddress;
  beforeEach(async () => {
    address = await plugIn();
  });
  afterEach(() => unplug());
  const look = (wanted: 'dc volts' | 'ac volts' | 'ohms') => desk.look({ address, identity }, wanted);

  test('is found, and says who it is', async () => {
    expect(await desk.find(address)).toMatchObject({
      ok: true,
      value: { identity, name: 'LARKFIELD DM-1, serial 1024', address },
    });
  });

  test('gives its reading with function and range, and is asked questions only', async () => {
    meter.face.shows = 245.312;
    expect(await look('dc volts')).toMatchObject({
      ok: true,
      value: { text: '245.312', reply: '+2.45312000E+02', setting: { function: 'dc volts', range: 1000 } },
    });
    expect(meter.asked).toEqual(['*IDN?', 'CONF?', 'READ?', 'CONF?']);
  });

  test('is not measured with while it is set to another function', async () => {
    expect(codeOf(await look('ohms'))).toBe('instrument/other-function');
    expect(meter.asked).not.toContain('READ?');
    Object.assign(meter.face, { function: 'RES', range: 1e8, shows: 9.9e37 });
    expect(await look('ohms')).toMatchObject({ ok: true, value: { text: 'OL' } });
  });

  test('unplugged in the middle of a reading says so at once, and is found again by itself', async () => {
    Object.assign(meter.face, { shows: 12, readingMs: 250 });
    await desk.find(address);
    const begun = performance.now();
    const asked = look('dc volts');
    await expect.poll(() => meter.asked.includes('READ?')).toBe(true);
    await unplug();
    expect(codeOf(await asked)).toBe('instrument/unplugged');
    // At once: neither when the reading is due, after 250 ms, nor when the wait for it is over.
    expect(performance.now() - begun).toBeLessThan(250);
    expect(codeOf(await look('dc volts'))).toBe('instrument/not-reached');
    address = await plugIn();
    meter.face.readingMs = 5;
    expect(await look('dc volts')).toMatchObject({ ok: true, value: { text: '12' } });
  });

  test('that does not answer in time says so, and its late answer is never taken for the next one', async () => {
    Object.assign(meter.face, { shows: 111, readingMs: 450 });
    const late = await look('dc volts');
    expect(late).toMatchObject({
      ok: false,
      problems: [{ code: 'instrument/no-answer', message: 'The meter did not answer READ? within 0.3 s' }],
    });
    Object.assign(meter.face, { shows: 222, readingMs: 5 });
    expect(await look('dc volts')).toMatchObject({ ok: true, value: { text: '222' } });
    await new Promise((resolve) => setTimeout(resolve, 250));
    expect(await look('dc volts')).toMatchObject({ ok: true, value: { text: '222' } });
  });

  test('exchanged for another one is not taken for the one that was recorded', async () => {
    meter.face.identity = 'LARKFIELD,DM-1,1025,1.0';
    expect(codeOf(await look('dc volts'))).toBe('instrument/other-one');
    expect(meter.asked).toEqual(['*IDN?']);
  });
}

describe('a meter on the network', () => {
  behaves(
    async () => {
      await meter.unplug();
      await meter.plugIn();
      return { kind: 'tcp', host: '127.0.0.1', port: meter.port };
    },
    () => meter.unplug(),
  );

  test('that knows no CONF? is asked FUNC?, and its ohms beyond an unknown range are no OL', async () => {
    Object.assign(meter.face, { knowsConf: false, function: 'RES', shows: 4700 });
    const address = { kind: 'tcp', host: '127.0.0.1', port: meter.port } as const;
    expect(await desk.look({ address, identity }, 'ohms')).toMatchObject({
      ok: true,
      value: { text: '4700', setting: { range: null } },
    });
    meter.face.shows = 9.9e37;
    expect(codeOf(await desk.look({ address, identity }, 'ohms'))).toBe('instrument/overload');
    expect(meter.asked.filter((line) => line === 'CONF?')).toHaveLength(1);
  });

  test('that is turned while it measures gives no reading', async () => {
    const address = { kind: 'tcp', host: '127.0.0.1', port: meter.port } as const;
    Object.assign(meter.face, { shows: 5, readingMs: 100 });
    const asked = desk.look({ address, identity }, 'dc volts');
    await expect.poll(() => meter.asked.includes('READ?')).toBe(true);
    meter.face.function = 'VOLT:AC';
    expect(codeOf(await asked)).toBe('instrument/other-function');
  });

  test('is looked for in the own network only', async () => {
    // 192.0.2.1 and 2001:db8::1 are set aside for documentation (RFC 5737, RFC 3849).
    expect(codeOf(await desk.find({ kind: 'tcp', host: '192.0.2.1', port: 5025 }))).toBe(
      'instrument/not-local',
    );
    expect(isLocalAddress('2001:db8::1', 6)).toBe(false);
    for (const address of ['127.0.0.1', '10.1.2.3', '172.31.0.1', '192.168.1.9', '169.254.3.4']) {
      expect(isLocalAddress(address, 4)).toBe(true);
    }
    expect(isLocalAddress('172.32.0.1', 4)).toBe(false);
    expect(isLocalAddress('fe80::1', 6)).toBe(true);
  });

  test('whose port answers nothing is said to be silent', async () => {
    meter.face.isMute = true;
    const found = await desk.find({ kind: 'tcp', host: '127.0.0.1', port: meter.port });
    expect(codeOf(found)).toBe('instrument/no-answer');
  });
});

describe.skipIf(!hasSocat)(
  'a meter on a serial port (needs socat; without it: apt-get install socat)',
  () => {
    let cable: SerialCable;
    let folder: string;
    beforeAll(() => {
      folder = newFolder('kitwright-serial-');
    });
    const plugIn = async (): Promise<InstrumentAddress> => {
      cable = new SerialCable(folder, meter.port);
      return { kind: 'serial', path: await cable.plugIn(), baudRate: 9600, frame: '8N1' };
    };
    behaves(plugIn, () => cable.unplug());

    test('of unknown speed is found at one of the usual ones', async () => {
      const address = await plugIn();
      expect(await desk.find({ ...address, baudRate: null } as InstrumentAddress)).toMatchObject({
        ok: true,
        value: { address: { baudRate: 9600, frame: '8N1' } },
      });
      await cable.unplug();
    });
  },
);

describe('without the serial library', () => {
  const none = () => Promise.resolve(null);

  test('ports are not listed and not opened, and the network is named as the other way', async () => {
    const listed = await listSerialPorts(none);
    expect(codeOf(listed)).toBe('instrument/no-serial');
    expect(listed).toMatchObject({ problems: [{ hint: expect.stringContaining('network') as string }] });
    const hearer = { text: () => undefined, ended: () => undefined };
    const address = { kind: 'serial', path: '/dev/ttyS0', baudRate: 9600, frame: '8N1' } as const;
    expect(codeOf(await openSerial(address, hearer, none))).toBe('instrument/no-serial');
  });
});
