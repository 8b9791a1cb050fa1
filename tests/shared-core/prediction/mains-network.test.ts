import { describe, expect, it } from 'vitest';
import { solveMainsNetwork, type MainsNetwork } from '../../../shared-core/prediction/mains-network.ts';

/** 230 V, primary 20 Ω; a heater winding of ratio 0.03 and 0.1 Ω with a 6.3 V, 2 A heater on it. */
const network: MainsNetwork = {
  reference: 'gnd',
  transformers: [{ id: 'T1', volts: 230, primaryOhms: 20 }],
  windings: [{ id: 'T1.heater', transformer: 'T1', nets: ['ha', 'hb'], ratio: 0.03, ohms: 0.1 }],
  heaters: [{ id: 'V1#heater', nets: ['ha', 'hb'], ratedVolts: 6.3, ratedAmps: 2 }],
  resistors: [
    { id: 'R1', nets: ['ha', 'gnd'], ohms: 100 },
    { id: 'R2', nets: ['hb', 'gnd'], ohms: 100 },
  ],
  sources: [],
};

describe('solveMainsNetwork', () => {
  it('obeys the filament law and the primary drop, and halves the winding about its reference', () => {
    const solution = solveMainsNetwork(network, []);
    expect(solution.converged).toBe(true);
    const volts = solution.heaterVolts['V1#heater'] ?? 0;
    // Backwards: the current that this voltage draws by I ∝ V^0.6, and through 200 Ω, must leave this voltage.
    const amps = 2 * (volts / 6.3) ** 0.6 + volts / 200;
    expect(0.03 * (230 - 20 * 0.03 * amps) - 0.1 * amps).toBeCloseTo(volts, 8);
    expect(solution.volts('ha')).toBeCloseTo(volts / 2, 6);
    expect(solution.volts('hb')).toBeCloseTo(-volts / 2, 6);
    expect(solution.primaryAmps['T1']).toBeCloseTo(0.03 * amps, 8);
  });

  it('lets square pulses take exactly their rms drop', () => {
    // No heaters: E = 230, R = 20. J = 1 A flat-topped in phase with the sine: a current of J0·sgn(sin θ).
    const bare = {
      ...network,
      windings: [{ id: 'T1.ht', transformer: 'T1', nets: ['a', 'gnd'] as const, ratio: 1, ohms: 30 }],
      heaters: [],
      resistors: [{ id: 'R1', nets: ['a', 'gnd'] as const, ohms: 1e9 }],
    };
    const [sineAmps, rmsAmps] = [2 / Math.PI, 1];
    const solution = solveMainsNetwork(bare, [{ winding: 'T1.ht', sineAmps, rmsAmps }]);
    let square = 0;
    const steps = 100000;
    for (let step = 0; step < steps; step += 1) {
      const sine = Math.sin((2 * Math.PI * (step + 0.5)) / steps);
      square += (230 * Math.SQRT2 * sine - 50 * Math.sign(sine)) ** 2 / steps;
    }
    expect(solution.volts('a')).toBeCloseTo(Math.sqrt(square), 4);
  });
});
