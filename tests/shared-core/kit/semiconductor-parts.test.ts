import { expect, test } from 'vitest';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { patch, smallKit } from '../../fixtures/kits/patch.ts';

const bleeder = 'rating: 2 W, between: [TS1.1, TS1.6] }\n';
const lines = [
  'D8: { kind: zener, title: "Reference", type: BZX85C12, value: 12 V, at: 20 mA, resistance: 9, tolerance: 5 %, rating: 1.3 W, between: [TS1.6, TS1.2] }',
  'D9: { kind: led, title: "Lamp", type: red, forward: 1.8 V, at: 10 mA, tolerance: 10 %, max-current: 20 mA, between: [TS1.2, TS1.6] }',
  'Q8: { kind: transistor, title: "Current source", type: MJE340, polarity: npn, gain: 60, tolerance: [-50 %, +100 %], max-volts: 300 V, max-current: 500 mA, rating: 1.5 W }',
  'Q9: { kind: transistor, title: "Follower", type: IRF820, polarity: n-channel, gate: { threshold: 3 V, volts: 5 V, current: 1 A }, tolerance: 20 %, max-volts: 500 V, max-current: 2 A, rating: 10 W }',
  'U9: { kind: regulator, title: "Heater regulator", type: LM317T, value: 1.25 V, tolerance: 4 %, dropout: 1.8 V, max-current: 1.5 A, least-load: 3.5 mA, adjust-current: 50 uA, max-volts: 40 V, rating: 10 W }',
];

test('reads Zener diodes, LEDs, transistors and regulators', () => {
  const text = patch(smallKit, [[bleeder, bleeder + lines.map((line) => `  ${line}\n`).join('')]]);
  const read = readKit(text, 'kit.yaml');
  const parts = new Map((read.ok ? read.value.parts : []).map((part) => [part.id, part]));
  expect(parts.get('D8')).toMatchObject({ kind: 'zener', volts: 12, amps: 0.02, ohms: 9, watts: 1.3 });
  expect(parts.get('D9')).toMatchObject({ kind: 'led', volts: 1.8, amps: 0.01, maxAmps: 0.02 });
  expect(parts.get('Q8')).toMatchObject({
    polarity: 'npn',
    gain: 60,
    gate: null,
    tolerance: { low: -0.5, high: 1 },
  });
  expect(parts.get('Q9')).toMatchObject({
    polarity: 'n-channel',
    gain: null,
    gate: { thresholdVolts: 3, volts: 5, amps: 1 },
  });
  expect(parts.get('U9')).toMatchObject({
    ...{ kind: 'regulator', polarity: 'positive', volts: 1.25, dropoutVolts: 1.8, amps: 1.5 },
    ...{ leastLoadAmps: 3.5e-3, maxVolts: 40, watts: 10 },
  });
});
