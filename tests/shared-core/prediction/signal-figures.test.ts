import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { expectedOutput, predictSignal } from '../../../shared-core/prediction/signal-figures.ts';
import { asStated, chooseHeron } from './heron.ts';

const { chosen } = chooseHeron();
const signal = predictSignal(chosen, 'signal', plainBench, asStated);
const [output] = signal?.outputs ?? [];
const stage = (element: string) => signal?.stages.find((each) => each.element === element);

describe('signalFigures of Heron', () => {
  it('names the stages as what they are', () => {
    expect(signal?.stages.map(({ element, output: end }) => `${element} ${end}`)).toEqual([
      'V1.1 anode',
      'V1.2 cathode',
      'V2 anode',
    ]);
    expect(Math.abs(stage('V1.1')?.phaseDegrees ?? 0)).toBeCloseTo(180, 1);
    expect(stage('V1.2')?.phaseDegrees).toBeCloseTo(0, 1);
  });

  it('gives a follower the resistance and gain of its closed form', () => {
    const { gain = 0, outputOhms = 0 } = stage('V1.2') ?? {};
    // gain = µ·Rk / (ra + (µ + 1)·Rk) < 1, and 1/gm in parallel with Rk: an ECC83 at about 1 mA has 1.2 to 2 mS.
    expect(gain).toBeGreaterThan(0.95);
    expect(gain).toBeLessThan(1);
    expect(1 / outputOhms).toBeGreaterThan(1.2e-3);
    expect(1 / outputOhms).toBeLessThan(2e-3);
  });

  it('agrees with the reading of the gain', () => {
    const reading = predictNominal(chosen, 'signal', plainBench, asStated)?.prediction.readings.find(
      ({ id }) => id === 'gain-1',
    );
    expect(output?.gain).toBeCloseTo(reading?.nominal ?? 0, 9);
    const found = expectedOutput(output!, 0.05);
    expect(found?.volts).toBeCloseTo(0.05 * (reading?.nominal ?? 0), 9);
    expect(found?.watts).toBeCloseTo((found?.volts ?? 0) ** 2 / 8, 9);
    expect(found?.isClipped).toBe(false);
    expect(expectedOutput(output!, 0.5)?.isClipped).toBe(true);
  });

  it('falls off below where the output transformer shorts what feeds it', () => {
    // 2π·f·Lp = ra ∥ RL: with the EL84's tens of kilohms that is close to the load's 5.2 kΩ.
    expect(output?.lowHertz).toBeGreaterThan(20);
    expect(output?.lowHertz).toBeLessThan(100);
  });

  it('begins to clip below what an output valve can give from its rest', () => {
    const { clipping } = output!;
    if (clipping.kind !== 'found') throw new Error(clipping.why);
    const watts = predictNominal(chosen, 'signal', plainBench, asStated)?.prediction.ratings.find(
      ({ part, what }) => part === 'V2' && what === 'anode dissipation',
    );
    expect(clipping.valve).toBe('V2');
    // Half of what rests in the anode is the sine's limit; the flattened one before clipping is seen gives a little more.
    expect(clipping.watts).toBeLessThan(0.55 * (watts?.value ?? 10));
    // Published for 250 V, 48 mA and 5.2 kΩ: 5.7 W, with 10 % distortion; Heron rests at less and clips before that.
    expect(clipping.watts).toBeGreaterThan(3.5);
    expect(clipping.watts).toBeLessThan(5.7);
    expect((clipping.inputVolts ?? 0) * (output?.gain ?? 0)).toBeGreaterThan(0.9 * clipping.outputVolts);
  });

  it('hums at twice the mains first, in millivolts', () => {
    const hum = output?.hum;
    const strongest = hum?.parts.reduce((one, other) => (other.volts > one.volts ? other : one));
    expect(strongest?.hertz).toBe(100);
    expect(hum?.volts).toBeGreaterThan(1e-4);
    expect(hum?.volts).toBeLessThan(10e-3);
  });

  it('has nothing to say without mains or without valves', () => {
    expect(predictSignal(chosen, 'cold', plainBench, asStated)).toBeNull();
    expect(predictSignal(chosen, 'no-valves', plainBench, asStated)).toBeNull();
    expect(predictSignal(chosen, 'running', plainBench, asStated)?.outputs[0]?.gain).toBeNull();
  });
});
