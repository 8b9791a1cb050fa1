import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { glanceScene } from '../../../shared-core/drawing/glance-scene.ts';
import { glanceSockets } from '../../../shared-core/drawing/socket-glance.ts';
import type { GlancePin } from '../../../shared-core/drawing/socket-glance.ts';
import type { BuildState, ReadingRecord } from '../../../shared-core/journal/build-state.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';

let heron: ChosenKit;

beforeAll(() => {
  const read = readKit(readFileSync('kits/heron/kit.yaml', 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, { mains: '230 V 50 Hz' });
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  heron = chosen.value;
});

type Figures = Pick<BuildState, 'readings' | 'fitted'>;

const nothing: Figures = { readings: {}, fitted: { measured: {}, valves: {} } };

function record(value: number, nominal: number): ReadingRecord {
  const band = { nominal, low: nominal * 0.9, high: nominal * 1.1, lowest: null, highest: null };
  return {
    entries: [
      {
        ...{ seq: 1, at: '', entry: { kind: 'value', value }, typed: String(value), band },
        ...{ verdict: 'as expected', bandShownBefore: false, corrects: null, condition: 'running' },
      },
    ],
    ...{ verdict: 'as expected', settled: 'settled', counts: true, acceptedReason: null },
  };
}

function pinOf(figures: Figures, socket: string, pin: number, volts: Record<string, number> = {}): GlancePin {
  const sockets = glanceSockets(heron, figures, 'running', volts);
  const found = sockets.find(({ part }) => part.id === socket)?.pins[pin - 1];
  if (found === undefined) throw new Error(`no pin ${pin} of ${socket}`);
  return found;
}

describe('glanceSockets', () => {
  it('shows every socket of the kit with every pin of its base', () => {
    const sockets = glanceSockets(heron, nothing, 'running', null);
    expect(sockets.map(({ part, pins }) => [part.id, pins.length])).toEqual([
      ['V1', 9],
      ['V2', 9],
      ['V3', 9],
    ]);
  });

  it('hides every expected figure while no first number is entered, whatever the engine knows', () => {
    const volts = Object.fromEntries(Object.keys(heron.placesOf).map((net) => [net, 123]));
    const all = glanceSockets(heron, nothing, 'running', volts).flatMap(({ pins }) => pins);
    expect(all.filter(({ expected }) => expected !== null)).toEqual([]);
    // That a pin is dangerous is said at once; how many volts it carries is not.
    expect(all.some(({ isHot }) => isHot)).toBe(true);
  });

  it('shows measured, expected and verdict at the pin, and on every pin of the same net', () => {
    const figures = { ...nothing, readings: { 'v2-cathode': record(7.81, 7.6) } };
    expect(pinOf(figures, 'V2', 3)).toMatchObject({
      ...{ electrode: 'cathode', measured: '7.81\u202fV', expected: '7.6\u202fV' },
      ...{ verdict: 'as expected', elsewhere: 'TS3.7' },
    });
    const b1 = { ...nothing, readings: { 'b1-running': record(262, 258) } };
    expect(pinOf(b1, 'V3', 3)).toMatchObject({ measured: '262\u202fV', elsewhere: heron.nets['b1'] });
  });

  it('shows computed volts of pins without a reading only once all readings of the condition are taken', () => {
    const ids = heron.readings.filter((reading) => reading.in === 'running').map(({ id }) => id);
    const readings = Object.fromEntries(ids.map((id) => [id, record(1, 1)]));
    const net = heron.netOf['V1.7'] ?? '';
    const [last = '', ...others] = ids;
    const most = Object.fromEntries(others.map((id) => [id, record(1, 1)]));
    const figures = (taken: Figures['readings']): Figures => ({ ...nothing, readings: taken });
    expect(pinOf(figures(most), 'V1', 7, { [net]: 0.5 }).reading).toBeNull();
    expect(pinOf(figures(most), 'V1', 7, { [net]: 0.5 }).expected, last).toBeNull();
    expect(pinOf(figures(readings), 'V1', 7, { [net]: 0.5 }).expected).toBe('500\u202fmV');
  });

  it('never calls the anode of a rectifier harmless or 0 V: its winding alternates', () => {
    const ids = heron.readings.filter((reading) => reading.in === 'running').map(({ id }) => id);
    const readings = Object.fromEntries(ids.map((id) => [id, record(1, 1)]));
    const volts = Object.fromEntries(Object.keys(heron.placesOf).map((net) => [net, 0]));
    for (const pin of [1, 7]) {
      expect(pinOf({ ...nothing, readings }, 'V3', pin, volts)).toMatchObject({
        expected: null,
        isHot: true,
      });
    }
    expect(pinOf({ ...nothing, readings }, 'V2', 4, volts).isHot).toBe(false);
  });

  it('goes by the valve that is fitted', () => {
    const other = { ...nothing, fitted: { measured: {}, valves: { V2: 'EL34' } } };
    const [, v2] = glanceSockets(heron, other, 'running', null);
    expect(v2?.type?.name).toBe('EL34');
  });
});

describe('glanceScene', () => {
  it('turns each socket as it is mounted and says its figures in its title', () => {
    const figures = { ...nothing, readings: { 'v2-cathode': record(7.81, 7.6) } };
    const [, v2] = glanceSockets(heron, figures, 'running', null);
    if (v2 === undefined) throw new Error('no V2');
    const scene = glanceScene(v2, false);
    expect(scene.title).toContain('pin 3 reads 7.81\u202fV, expected 7.6\u202fV, as expected');
    const one = scene.items.find((item) => item.kind === 'text' && item.text === '1');
    // Gap at 45°, first of ten places after it: 81° clockwise from the top, on a circle of 86 (its own geometry).
    if (one?.kind !== 'text') throw new Error('no pin 1');
    expect(one.x - 230).toBeCloseTo(86 * Math.sin((81 * Math.PI) / 180), 6);
    expect(one.y - 6 - 226).toBeCloseTo(-86 * Math.cos((81 * Math.PI) / 180), 6);
  });

  it('uses the danger colour only while the amplifier may carry the volts', () => {
    const volts = { [heron.netOf['V2.7'] ?? '']: 240 };
    const [, v2] = glanceSockets(heron, nothing, 'running', volts);
    if (v2 === undefined) throw new Error('no V2');
    const isRed = (isLive: boolean): boolean =>
      glanceScene(v2, isLive).items.some((item) => item.kind === 'path' && item.ink === 'danger');
    expect([isRed(true), isRed(false)]).toEqual([true, false]);
  });

  it('keeps every line of figures inside the drawing, on every base at every turn', () => {
    const sockets = glanceSockets(heron, nothing, 'running', null);
    for (const socket of sockets) {
      const pins = socket.pins.map((pin) => ({
        ...{ ...pin, electrode: 'suppressor', measured: '−245.3\u202fV', expected: '245\u202fV' },
        verdict: 'borderline' as const,
      }));
      for (let gapFaces = 0; gapFaces < 360; gapFaces += 15) {
        const part = { ...socket.part, socket: { ...socket.part.socket, gapFaces } };
        const { items, width, height } = glanceScene({ ...socket, part, pins }, true);
        for (const item of items) {
          if (item.kind !== 'text') continue;
          const wide = item.text.length * item.size * 0.6;
          const left =
            item.anchor === 'start' ? item.x : item.anchor === 'end' ? item.x - wide : item.x - wide / 2;
          const where = `${item.text} at ${gapFaces}`;
          expect(left, where).toBeGreaterThanOrEqual(0);
          expect(left + wide, where).toBeLessThanOrEqual(width);
          expect(item.y, where).toBeLessThanOrEqual(height);
          expect(item.y - item.size, where).toBeGreaterThanOrEqual(-2);
        }
      }
    }
  });
});
