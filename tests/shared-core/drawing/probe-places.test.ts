import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { spotOf } from '../../../shared-core/drawing/chassis-places.ts';
import { saferPlace } from '../../../shared-core/drawing/safer-place.ts';
import { countingWords, electrodeNames, socketScene } from '../../../shared-core/drawing/socket-scene.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import type { Reading, ValvePart } from '../../../shared-core/kit/kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { findValveBase } from '../../../shared-core/valves/bases.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';

const kits = ['heron', 'wren', 'curlew'].map((name): ChosenKit => {
  const read = readKit(readFileSync(`kits/${name}/kit.yaml`, 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
});

interface PinReading {
  readonly kit: ChosenKit;
  readonly reading: Reading;
  readonly part: ValvePart;
  readonly pin: number;
}

const all = kits.flatMap((kit) => kit.readings.map((reading) => ({ kit, reading })));
const atPins = all.flatMap(({ kit, reading }): readonly PinReading[] => {
  const [id = '', end = ''] = (kit.nets[reading.at] ?? reading.at).split('.');
  const part = kit.parts.find((each) => each.id === id);
  return part?.kind === 'valve' ? [{ kit, reading, part, pin: Number(end) }] : [];
});

describe('where the probes go, for every reading of the three kits', () => {
  it('has a spot on the chassis for the red lead, and for the black one where it is not on bare metal', () => {
    expect(all.length).toBeGreaterThan(150);
    for (const { kit, reading } of all) {
      for (const address of [reading.at, reading.against]) {
        const place = kit.nets[address] ?? address;
        if (place === 'chassis') continue;
        expect(spotOf(kit, place), `${kit.id} ${reading.id} ${place}`).not.toBeNull();
      }
    }
  });

  it('draws each socket turned as the kit mounts it, with the pin marked and an electrode named', () => {
    expect(atPins.length).toBeGreaterThan(50);
    for (const { kit, reading, part, pin } of atPins) {
      const where = `${kit.id} ${reading.id}`;
      const base = findValveBase(part.socket.base);
      const type = findValveType(part.type, kit.valves);
      if (base === undefined || type === undefined) throw new Error(where);
      const name = electrodeNames(type)[pin];
      expect(name, where).toMatch(/^(anode|grid|cathode|screen|suppressor|heater|filament)/);
      const scene = socketScene({
        ...{ part: part.id, base, type, pin, gapFaces: part.socket.gapFaces, dangerous: {} },
      });
      expect(scene.title, where).toContain(`pin ${pin}, ${name}`);
      expect(countingWords(base, pin, name), where).toMatch(
        /^Pin \d, .+: counted clockwise from the (key|gap), seen from below\.$/,
      );
    }
  });

  it('measures live volts against the chassis or the signal earth, so that one lead alone is hot', () => {
    for (const { kit, reading } of all) {
      const condition = kit.conditions.find(({ id }) => id === reading.in);
      const isVolts = reading.measure === 'dc volts' || reading.measure === 'ac volts';
      if (condition === undefined || condition.supply === 'unplugged' || !isVolts) continue;
      expect(['gnd', 'chassis'], `${kit.id} ${reading.id}`).toContain(reading.against);
    }
  });

  it('offers a tag of the same net where a pin has one, and only then', () => {
    for (const { kit, reading, part, pin } of atPins) {
      const where = `${kit.id} ${reading.id}`;
      const place = `${part.id}.${pin}`;
      const safer = saferPlace(kit, reading.at);
      const strips = kit.parts.filter(({ kind }) => kind === 'tag-strip' || kind === 'jack');
      const mates = (kit.placesOf[kit.netOf[place] ?? ''] ?? []).filter((each) =>
        strips.some(({ id }) => each.startsWith(`${id}.`)),
      );
      expect(safer === null ? mates.length === 0 : mates.includes(safer), where).toBe(true);
    }
    expect(atPins.some(({ kit, reading }) => saferPlace(kit, reading.at) !== null)).toBe(true);
    expect(kits.map((kit) => saferPlace(kit, 'chassis'))).toEqual([null, null, null]);
  });
});
