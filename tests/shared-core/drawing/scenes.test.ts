import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { bandDomain, bandScene } from '../../../shared-core/drawing/band-scene.ts';
import { spotOf } from '../../../shared-core/drawing/chassis-places.ts';
import { chassisScene } from '../../../shared-core/drawing/chassis-scene.ts';
import { drainScene } from '../../../shared-core/drawing/drain-scene.ts';
import type { Scene } from '../../../shared-core/drawing/scene.ts';
import { electrodeNames, socketScene } from '../../../shared-core/drawing/socket-scene.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { findValveBase } from '../../../shared-core/valves/bases.ts';
import type { ValveBase } from '../../../shared-core/valves/bases.ts';
import { findValveType, valveTypes } from '../../../shared-core/valves/index.ts';

let heron: ChosenKit;

beforeAll(() => {
  const read = readKit(readFileSync('kits/heron/kit.yaml', 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, { mains: '230 V 50 Hz' });
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  heron = chosen.value;
});

/** pdfkit draws anything but these commands wrongly, and cuts a path short at a number that is not finite. */
function expectDrawable(scene: Scene): void {
  for (const item of scene.items) {
    const isDrawable =
      item.kind === 'path'
        ? /^[MLHVCSAZ0-9. -]+$/.test(item.d)
        : Number.isFinite(item.x) && Number.isFinite(item.y);
    expect(isDrawable, JSON.stringify(item)).toBe(true);
  }
}

function base(name: string): ValveBase {
  const found = findValveBase(name);
  if (found === undefined) throw new Error(`no base ${name}`);
  return found;
}

function textAt(scene: Scene, text: string): { x: number; y: number } {
  const found = scene.items.find((item) => item.kind === 'text' && item.text === text);
  if (found === undefined || found.kind !== 'text') throw new Error(`no text ${text}`);
  return found;
}

describe('socketScene', () => {
  const plain = { part: 'V2', type: null, pin: null, dangerous: {} };

  it('numbers pins clockwise, as seen from below, for every base', () => {
    for (const name of ['B7G', 'B9A', 'octal', 'loctal', 'UX4']) {
      const scene = socketScene({ ...plain, base: base(name), gapFaces: 0 });
      const centre = { x: 180, y: 176 };
      const turns = Array.from({ length: base(name).pins }, (_, index) => {
        const at = textAt(scene, String(index + 1));
        return (Math.atan2(at.x - centre.x, -(at.y - 6 - centre.y)) * 180) / Math.PI;
      }).map((degrees) => (degrees + 360) % 360);
      expect([...turns].sort((a, b) => a - b)).toEqual(turns);
    }
  });

  it('turns with the socket: the first pin of a noval moves from right of the top to right of the bottom', () => {
    const up = textAt(socketScene({ ...plain, base: base('B9A'), gapFaces: 0 }), '1');
    const down = textAt(socketScene({ ...plain, base: base('B9A'), gapFaces: 180 }), '1');
    expect(up.x).toBeGreaterThan(180);
    expect(up.y).toBeLessThan(176);
    expect(down.x).toBeLessThan(180);
    expect(down.y).toBeGreaterThan(176);
  });

  it('draws every valve type of the catalogue with finite paths and names the chosen electrode', () => {
    for (const type of valveTypes) {
      const scene = socketScene({
        ...plain,
        base: base(type.base),
        type,
        gapFaces: 45,
        pin: 3,
        dangerous: { 1: '250 V' },
      });
      expectDrawable(scene);
      expect(scene.title).toContain('pin 3');
    }
  });

  it('names the electrodes of an EL84 as published: grid 2, cathode 3, anode 7, screen 9', () => {
    const type = findValveType('EL84');
    const names = type === undefined ? {} : electrodeNames(type);
    expect([names[2], names[3], names[7], names[9]]).toEqual(['grid', 'cathode', 'anode', 'screen']);
    expect([names[4], names[5]]).toEqual(['heater', 'heater']);
  });
});

describe('bandScene', () => {
  const figures = {
    unit: 'V',
    nominal: 7.7,
    low: 7,
    high: 8.4,
    lowest: 6.6,
    highest: 8.8,
    stopAbove: 12,
    stopBelow: null,
  } as const;

  it('keeps the pointer on the axis, however far off the reading is', () => {
    for (const measured of [-300, 0, 7.8, 40]) {
      const [from, to] = bandDomain(figures, measured);
      expect(from).toBeLessThan(measured);
      expect(to).toBeGreaterThan(measured);
      const scene = bandScene(figures, measured);
      if (scene === null) throw new Error('expected a drawing');
      expectDrawable(scene);
    }
  });

  it('draws nothing where nothing is predicted', () => {
    expect(bandScene({ ...figures, low: null, high: null }, 3)).toBeNull();
  });
});

describe('drainScene', () => {
  const seconds = Array.from({ length: 60 }, (_, index) => index * 2);
  const curve = (tau: number): { seconds: number[]; volts: number[] } => ({
    seconds,
    volts: seconds.map((time) => 390 * Math.exp(-time / tau)),
  });
  const store = {
    part: 'C1',
    plus: 'TS1.3',
    minus: 'TS2.2',
    volts: 390,
    joules: 3.6,
    fastSeconds: 20,
    likelySeconds: 26,
    slowSeconds: 32,
    fast: curve(8),
    likely: curve(10),
    slow: curve(12),
  };

  it('puts a higher voltage higher on the plot, and a later look further right', () => {
    const scene = drainScene(
      store,
      30,
      [
        { seconds: 10, volts: 200 },
        { seconds: 40, volts: 12 },
      ],
      50,
    );
    expectDrawable(scene);
    const marks = scene.items.filter(
      (item) => item.kind === 'path' && item.weight === 'bold' && item.fill === 'paper',
    );
    const starts = marks.map((item) => (item.kind === 'path' ? item.d.match(/^M([\d.]+) ([\d.]+)/) : null));
    const [first, second] = starts.map((start) => [Number(start?.[1]), Number(start?.[2])] as const);
    expect(second?.[0]).toBeGreaterThan(first?.[0] ?? Infinity);
    expect(second?.[1]).toBeGreaterThan(first?.[1] ?? Infinity);
  });
});

describe('chassisScene', () => {
  it("finds a spot for both ends of every soldered part and every lead of Heron, but the chassis' own", () => {
    const places = [
      ...heron.parts.flatMap((part) => ('between' in part ? part.between : [])),
      ...heron.leads.flatMap((lead) => [lead.from, lead.to]),
    ].filter((place) => place !== 'chassis');
    expect(places.length).toBeGreaterThan(100);
    expect(places.filter((place) => spotOf(heron, place) === null)).toEqual([]);
  });

  it('keeps all of Heron inside the chassis', () => {
    for (const part of heron.parts) {
      const at = heron.layout[part.id];
      if (at === undefined) continue;
      expect(at[0]).toBeGreaterThan(0);
      expect(at[0]).toBeLessThan(heron.chassis.width);
      expect(at[1]).toBeLessThan(heron.chassis.depth);
    }
  });

  it('puts the step in ink and leaves the rest faint', () => {
    const scene = chassisScene(heron, { parts: ['C1', 'R3'], leads: ['W28'], places: ['TS1.3'] });
    expectDrawable(scene);
    expect(scene.title).toContain('C1, R3, W28, TS1.3');
    expect(textAt(scene, 'C1')).not.toEqual(textAt(scene, 'R3'));
    const faint = scene.items.find((item) => item.kind === 'text' && item.text === 'V1');
    expect(faint?.ink).toBe('faint');
  });
});
