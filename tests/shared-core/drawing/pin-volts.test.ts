import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { placeVoltsIn, readState, warningVolts } from '../../../shared-core/drawing/pin-volts.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';

const kits = ['heron', 'wren', 'curlew'].map((name): ChosenKit => {
  const read = readKit(readFileSync(`kits/${name}/kit.yaml`, 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
});

describe('placeVoltsIn', () => {
  it('calls every end of a high-tension winding hot, in every kit, where DC alone says 0 V', () => {
    for (const kit of kits) {
      const zero = Object.fromEntries(Object.keys(kit.placesOf).map((net) => [net, 0]));
      const at = placeVoltsIn(kit, zero);
      const windings = kit.parts.flatMap((part) =>
        part.kind === 'mains-transformer' ? part.windings.map((winding) => ({ part, winding })) : [],
      );
      expect(windings.length).toBeGreaterThan(1);
      for (const { part, winding } of windings) {
        const place = `${part.id}.${winding.name}.a`;
        expect(at(place), `${kit.id} ${place}`).toMatchObject({
          ...{ volts: winding.volts, alternates: true, isHot: winding.volts > kit.safeVolts },
        });
      }
      expect(at('inlet.line').isHot, kit.id).toBe(true);
      expect(at('chassis').isHot, kit.id).toBe(false);
    }
  });

  it('takes a DC figure without its sign', () => {
    const [heron] = kits;
    if (heron === undefined) throw new Error('no kit');
    const at = placeVoltsIn(heron, { [heron.netOf['V2.7'] ?? '']: -120 });
    expect(at('V2.7')).toMatchObject({ volts: 120, alternates: false, isHot: true });
  });
});

describe('warningVolts', () => {
  it('is rough while the place is still to be read, and exact afterwards', () => {
    expect(warningVolts(245.3, true)).toBe('about 250\u202fV');
    expect(warningVolts(-63, true)).toBe('about −60\u202fV');
    expect(warningVolts(31, true)).toBe('about 30\u202fV');
    expect(warningVolts(245.3, false)).toBe('245\u202fV');
  });
});

describe('readState', () => {
  it('goes by the net, whichever of its places the reading names', () => {
    const [heron] = kits;
    if (heron === undefined) throw new Error('no kit');
    expect(readState(heron, {}, 'running', 'V2.3')).toBe('to read');
    expect(readState(heron, { 'v2-cathode': { entries: [1] } }, 'running', 'V2.3')).toBe('read');
    expect(readState(heron, {}, 'cold-on', 'V2.3')).toBe('no reading');
  });
});
