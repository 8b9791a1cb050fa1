import { expect, test } from 'vitest';
import type { RefineContext } from '../../../shared-core/circuit/device.ts';
import { reducePhase } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import { findPeriodicState } from '../../../shared-core/circuit/supply/shooting.ts';
import { rectifierSupply, supplyWaveform } from '../../../shared-core/devices/rectifier-supply.ts';
import { checkDevice } from '../../helpers/check-device.ts';

type Values = Readonly<Record<string, number>>;

function parameters(values: Values): Float64Array {
  return Float64Array.from(rectifierSupply.parameters, ({ name, initial }) => values[name] ?? initial);
}

function position(name: string): number {
  return rectifierSupply.parameters.findIndex((parameter) => parameter.name === name);
}

/** Voltage at which the supply gives what the load takes, by bisection. */
function settle(values: Float64Array, load: (volts: number) => number): number {
  const out = { residuals: new Float64Array(2), derivatives: new Float64Array(4) };
  let [low, high] = [0, 2000];
  for (let round = 0; round < 70; round++) {
    const volts = (low + high) / 2;
    rectifierSupply.evaluate(Float64Array.of(volts, 0), values, out);
    if (-out.residuals[0]! > load(volts)) low = volts;
    else high = volts;
  }
  return low;
}

/** The slow loop alone: the rest of the circuit is a load line and a reservoir. */
function refineAll(
  values: Float64Array,
  amps: number,
  siemens: number,
  farads: number,
): { volts: number; rounds: number } {
  const context: RefineContext = {
    admittanceAround: (_plus, _minus, hertz) => [siemens, 2 * Math.PI * hertz * farads],
  };
  for (let round = 1; round < 12; round++) {
    const volts = settle(values, (at) => amps + siemens * (at - 300));
    const change = rectifierSupply.refine(Float64Array.of(volts, 0), values, context);
    if (change < 1e-9) return { volts, rounds: round };
  }
  return { volts: NaN, rounds: 12 };
}

const twoPhases = { phase2Law: 2, phase2EmfVolts: 345, phase2Ohms: 156 } as const;

test('keeps the rules of a device with valves and with semiconductors', () => {
  for (const law of [0, 1, 2]) {
    checkDevice(rectifierSupply, {
      volts: [-500, 700],
      parameters: {
        phase1Law: [law, law],
        phase2Law: [law, law],
        phase1EmfVolts: [5, 800],
        phase2EmfVolts: [5, 800],
        phase1Ohms: [0.1, 1000],
        phase2Ohms: [0.1, 1000],
        shiftVolts: [-2, 10],
      },
      runs: 150,
    });
  }
});

test.each([
  ['valve, two unequal phases', { ...twoPhases }, 0.15, 1e-3, 47e-6],
  ['valve, half wave, heavy ripple', {}, 0.05, 2e-4, 10e-6],
  ['semiconductor, half wave', { phase1Law: 1, phase1Ohms: 40 }, 0.08, 1e-4, 33e-6],
  [
    'semiconductor bridge',
    { phase1Law: 1, phase1Junctions: 2, phase2Law: 1, phase2Junctions: 2, phase2EmfVolts: 350 },
    0.1,
    0,
    47e-6,
  ],
] as const)(
  'makes the mean exact in a few rounds of the slow loop: %s',
  (_, values, amps, siemens, farads) => {
    const own = parameters(values);
    const { volts, rounds } = refineAll(own, amps, siemens, farads);
    expect(rounds).toBeLessThanOrEqual(6);
    const phase = (number: 1 | 2) => {
      const value = (name: string) => own[position(`phase${number}${name}`)]!;
      return reducePhase({
        emfVolts: value('EmfVolts'),
        ohms: value('Ohms'),
        junctions: value('Junctions'),
        isOpposite: number === 2,
        law:
          value('Law') === 1
            ? { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 }
            : { kind: 'valve', perveance: value('Law') === 2 ? 1.7085e-3 : 0 },
      });
    };
    const exact = findPeriodicState({
      phases: [phase(1), phase(2)],
      hertz: 50,
      farads,
      load: { kind: 'line', amps, siemens, volts: 300 },
    });
    // Two independent solutions, each periodic to 1e-10 and settled to 1e-9 of the peak.
    expect(exact.ok && Math.abs(exact.waveform.meanVolts - volts)).toBeLessThan(1e-5);
    // Without the correction it reads high.
    const plain = settle(parameters(values), (at) => amps + siemens * (at - 300));
    expect(plain - volts).toBeGreaterThan(0.01);
    expect(supplyWaveform(Float64Array.of(volts, 0), own)!.meanVolts).toBeCloseTo(volts, 4);
  },
);

test('holds a step between 0 V and the peak, and lets go where something else holds it', () => {
  const own = parameters({});
  const step = (from: number, to: number): [boolean, number] => {
    const next = Float64Array.of(to, 0);
    return [rectifierSupply.limitStep(Float64Array.of(from, 0), next, own), next[0]!];
  };
  expect(step(200, 340)).toEqual([false, 340]);
  expect(step(200, 900)).toEqual([true, 335]);
  expect(step(200, -900)).toEqual([true, 0]);
  expect(step(349.999, 900)).toEqual([false, 900]);
  expect(step(-5, -900)).toEqual([false, -900]);
});

test('reports the anode’s duty as figures', () => {
  const own = parameters(twoPhases);
  const { volts } = refineAll(own, 0.1, 0, 47e-6);
  const figures = new Map(
    rectifierSupply.report(Float64Array.of(volts, 0), own).map(({ what, value }) => [what, value]),
  );
  expect(figures.get('mean current')).toBeCloseTo(0.1, 8);
  expect(figures.get('source resistance 2')).toBe(156);
  expect(figures.get('reservoir at the ripple frequency')).toBeCloseTo(47e-6, 12);
  // A pulse of a quarter of the cycle or less carries its mean at four times its height or more.
  expect(figures.get('peak current 1')! / 0.05).toBeGreaterThan(4);
  // EMF peak plus the reservoir's highest voltage.
  expect(figures.get('peak inverse voltage 1')).toBeGreaterThan(350 + volts);
  expect(figures.get('peak inverse voltage 1')).toBeLessThan(700);
});

test('says that the ripple was not found where nothing holds the voltage', () => {
  const own = parameters({});
  const change = rectifierSupply.refine(Float64Array.of(250, 0), own, { admittanceAround: () => [1e-3, 0] });
  expect(change).toBe(0);
  expect(supplyWaveform(Float64Array.of(250, 0), own)).toBeNull();
  expect(rectifierSupply.report(Float64Array.of(250, 0), own).map(({ what }) => what)).toContain(
    'ripple not found',
  );
});

test('stores charge only for a reservoir of its own', () => {
  expect(rectifierSupply.storage(parameters({}))).toEqual([]);
  expect(rectifierSupply.storage(parameters({ reservoirFarads: 47e-6 }))).toEqual([
    { kind: 'charge', plus: 0, minus: 1, farads: 47e-6 },
  ]);
});

test('states the surge of switching on hot: the crest over the source resistance', () => {
  const values = parameters({ ...twoPhases, phase1Law: 0, phase1EmfVolts: 350, phase1Ohms: 140 });
  const surge = rectifierSupply
    .report(Float64Array.of(300, 0), values)
    .find(({ what }) => what === 'hot-switching surge 1')!;
  expect(surge.value).toBeCloseTo(350 / 140, 9);
});
