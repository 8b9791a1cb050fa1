import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { type LoosePart, type SmallKit, smallKit } from './small-kit.ts';

const five = { low: -0.05, high: 0.05 };

/** A silicon half-wave supply of about 330 V with nothing on it but what the test adds at `b1`. */
export function halfWaveKit(parts: readonly LoosePart[], rest: Omit<SmallKit, 'parts'> = {}): ChosenKit {
  return smallKit({
    ...rest,
    parts: [
      { kind: 'mains-inlet', id: 'X1' },
      {
        ...{ kind: 'mains-transformer', id: 'T1', tolerance: { low: -0.03, high: 0.03 } },
        primary: { volts: 230, dcrOhms: 10 },
        windings: [{ name: 'ht', volts: 230, centreTapped: false, amps: 0.05, dcrOhms: [80] }],
      },
      { kind: 'tag-strip', id: 'TS1', tags: 8, earthed: [8] },
      {
        ...{ kind: 'diode', id: 'D1', type: '1N4007', reverseVolts: 1000, amps: 1 },
        between: ['T1.ht.a', 'TS1.1'],
      },
      {
        ...{ kind: 'capacitor', id: 'C1', type: 'electrolytic', farads: 47e-6, volts: 450 },
        ...{ tolerance: { low: -0.2, high: 0.5 }, between: ['TS1.1', 'TS1.8'] },
      },
      ...parts,
    ],
    leads: [
      ['inlet.line', 'T1.primary.a'],
      ['inlet.neutral', 'T1.primary.b'],
      ['T1.ht.b', 'TS1.8'],
      ['inlet.earth', 'chassis'],
      ...(rest.leads ?? []),
    ],
    nets: { gnd: 'TS1.8', b1: 'TS1.1', ...rest.nets },
    conditions: [
      { id: 'cold', supply: 'unplugged' },
      { id: 'running' },
      { id: 'lamp', supply: 'lamp' },
      ...(rest.conditions ?? []),
    ],
  });
}

/** A resistor of 5 % and 2 W. */
export function resistorOf(id: string, ohms: number, from: string, to: string): LoosePart {
  return { kind: 'resistor', id, ohms, tolerance: five, watts: 2, between: [from, to] };
}
