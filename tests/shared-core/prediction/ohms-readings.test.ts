import { describe, expect, it } from 'vitest';
import { thermalVolts } from '../../../shared-core/devices/junction.ts';
import { type Bench, type OhmsTest, plainBench } from '../../../shared-core/prediction/bench.ts';
import { openCondition } from '../../../shared-core/prediction/condition-model.ts';
import { type OhmsReading, readOhms } from '../../../shared-core/prediction/ohms-readings.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../../shared-core/prediction/world.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated } from './heron.ts';

const bleederOhms = 220e3;
const kit = halfWaveKit(
  [resistorOf('R1', bleederOhms, 'TS1.1', 'TS1.8'), resistorOf('R2', 47e3, 'TS1.2', 'TS1.3')],
  {
    readings: [
      { id: 'b1', at: 'b1', measure: 'ohms', in: 'cold' },
      { id: 'b1-turned', at: 'gnd', against: 'b1', measure: 'ohms', in: 'cold' },
      { id: 'r2', at: 'TS1.2', against: 'TS1.3', measure: 'ohms', in: 'cold' },
      { id: 'apart', at: 'TS1.2', against: 'TS1.8', measure: 'ohms', in: 'cold' },
    ],
  },
);

function read(ways?: 'both ways', ohmsTest?: OhmsTest): Readonly<Record<string, OhmsReading>> {
  const cold = kit.conditions.find(({ id }) => id === 'cold')!;
  const model = openCondition(kit, cold, benchWith(ohmsTest), asStated, 'cold');
  return Object.fromEntries(readOhms(model, nominalWorld, ways).readings.map((each) => [each.id, each]));
}

function benchWith(ohmsTest: OhmsTest | undefined): Bench {
  return ohmsTest ? { ...plainBench, meter: { ...plainBench.meter, ohmsTest } } : plainBench;
}

/** What 10 µA of the 40 kΩ range leave across the diode beside the bleeder: Shockley's law, by halving. */
function throughDiode(): number {
  let [low, high] = [0, 0.6];
  for (let round = 0; round < 60; round++) {
    const volts = (low + high) / 2;
    // Defaults of the diode: IS 5 nA, N 1.8; 80 Ω of winding are a thousandth of the reading.
    const amps = 5e-9 * Math.expm1(volts / (1.8 * thermalVolts)) + volts / bleederOhms;
    if (amps < 10e-6) low = volts;
    else high = volts;
  }
  return low / 10e-6;
}

describe('readOhms', () => {
  it('shows the bleeder where the rectifier blocks, and the junction with the leads exchanged', () => {
    const { b1, 'b1-turned': turned } = read('both ways');
    expect(Math.abs((b1?.ohms ?? 0) / bleederOhms - 1)).toBeLessThan(5e-3);
    // The winding's 80 Ω and the leak of C1.
    expect(Math.abs((b1?.reversed?.ohms ?? 0) / throughDiode() - 1)).toBeLessThan(0.01);
    expect(turned?.ohms).toBeCloseTo(b1?.reversed?.ohms ?? 0, 3);
    expect(turned?.reversed?.ohms).toBeCloseTo(b1?.ohms ?? 0, 3);
  });

  it('says nothing of the other way where no junction is, or where it was not asked', () => {
    expect(read('both ways')['r2']).toMatchObject({ ohms: expect.closeTo(47e3, 1) });
    expect(read('both ways')['r2']?.reversed).toBeUndefined();
    expect(read()['b1']?.reversed).toBeUndefined();
  });

  it('knows the volts of its own range, and OL', () => {
    const { r2, apart, b1 } = read();
    expect(r2?.testVolts).toBeCloseTo(0.4 * (47e3 / 400e3), 6);
    expect(apart).toMatchObject({ ohms: null, settleSeconds: null, testVolts: null });
    // 47 µF through 220 kΩ to the last percent: ln 100 time constants.
    expect(Math.abs((b1?.settleSeconds ?? 0) / (Math.log(100) * 47e-6 * bleederOhms) - 1)).toBeLessThan(0.01);
  });

  it('is turned round by a meter that has its plus on the black lead', () => {
    const [plain, pointer] = [read('both ways'), read('both ways', { volts: 0.4, plusOn: 'black' })];
    // Red is then minus: what the plain meter shows with its leads exchanged, and the other way round.
    expect(pointer['b1']?.ohms).toBe(plain['b1']?.reversed?.ohms);
    expect(pointer['b1']?.reversed?.ohms).toBe(plain['b1']?.ohms);
    // A resistor has no polarity.
    expect(pointer['r2']?.ohms).toBeCloseTo(47e3, 1);
  });

  it('lets a meter with the volts of a cell turn a diode on', () => {
    // 1.5 V at full scale of 400 Ω is 3.75 mA: a junction drops N·kT/q·ln(I/IS + 1) = 0.63 V of it, the winding 80 Ω.
    const { ohms } = read('both ways', { volts: 1.5, plusOn: 'red' })['b1-turned']!;
    const amps = 1.5 / 400;
    const drop = 1.8 * thermalVolts * Math.log(amps / 5e-9 + 1);
    // The bleeder takes a thousandth of the current, the junction's own resistance is 0.05 Ω.
    expect(Math.abs(ohms! / (drop / amps + 80) - 1)).toBeLessThan(0.005);
    expect(read('both ways', { volts: 1.5, plusOn: 'red' })['r2']?.testVolts).toBeCloseTo(
      1.5 * (47 / 400),
      6,
    );
  });

  it('tells the builder what a meter with its plus on the black lead shows', () => {
    const b1 = predictNominal(kit, 'cold', plainBench, asStated)?.prediction.readings.find(
      ({ id }) => id === 'b1',
    );
    expect(b1?.why).toMatch(
      /^a junction is in the way: a meter whose black lead carries the plus shows about 3\d\skΩ$/u,
    );
  });
});
