import { describe, expect, it } from 'vitest';
import { compileCircuit } from '../../../shared-core/circuit/compile.ts';
import { Transient } from '../../../shared-core/circuit/transient.ts';
import { c, circuit, l } from '../../helpers/circuit.ts';

/** A ringing circuit of 10 H, 200 Ω and 10 µF from 100 V: worst error over 0.1 s, and worst estimate. */
function ring(steps: number): { worst: number; estimate: number } {
  const [henries, ohms, farads] = [10, 200, 10e-6];
  const damping = ohms / (2 * henries);
  const omega = Math.sqrt(1 / (henries * farads) - damping ** 2);
  const exact = (time: number): number =>
    100 * Math.exp(-damping * time) * (Math.cos(omega * time) + (damping / omega) * Math.sin(omega * time));
  const compiled = compileCircuit(circuit(c('C1', 'a', 'gnd', farads), l('L1', 'a', 'gnd', henries, ohms)));
  const transient = new Transient(compiled, 0);
  const stored = new Float64Array(compiled.size + 1);
  stored[0] = farads * 100;
  expect(transient.begin(stored, 1e-9)).toBe(true);
  let [worst, estimate] = [0, 0];
  for (let step = 1; step <= steps; step++) {
    expect(transient.tryStep(0.1 / steps)).toBe(true);
    transient.accept();
    worst = Math.max(worst, Math.abs(transient.x[0]! - exact((0.1 * step) / steps)));
    estimate = Math.max(estimate, Math.abs(transient.error[0]!));
  }
  return { worst, estimate };
}

describe('transient', () => {
  it('quarters its error when the step is halved, and its estimate of one step falls by eight', () => {
    const [coarse, fine] = [ring(80), ring(160)];
    // Second order over all, third order in one step; the asymptotic ratios are 4 and 8.
    expect(coarse.worst / fine.worst).toBeGreaterThan(3.8);
    expect(coarse.worst / fine.worst).toBeLessThan(4.2);
    expect(coarse.estimate / fine.estimate).toBeGreaterThan(7.5);
    expect(coarse.estimate / fine.estimate).toBeLessThan(8.5);
  });
});
