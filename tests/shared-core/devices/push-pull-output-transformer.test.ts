import { describe, expect, it } from 'vitest';
import { elementFigures } from '../../../shared-core/circuit/operating-point.ts';
import { SmallSignal, type Stimulus } from '../../../shared-core/circuit/small-signal.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import type { CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { outputTransformer } from '../../../shared-core/devices/output-transformer.ts';
import { pushPullOutputTransformer } from '../../../shared-core/devices/push-pull-output-transformer.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';

const values = { primaryHenries: 40, secondaryOhms: 0.5, firstOhms: 90, secondOhms: 110, tap: 0.43 };
const pins = ['a', 'ta', 'ct', 'tb', 'b', 's', 'gnd'];

function solve(...elements: CircuitElement[]): Solver {
  const solver = new Solver(circuit(...elements), { gminSiemens: 1e-15 });
  expect(solver.solve().converged).toBe(true);
  return solver;
}

/** Ohms from the centre to a pin, by 1 mA into it (Ω). */
function ohmsToCentre(pin: string): number {
  const nets = pins.map((net) => (net === 'ct' ? 'gnd' : net));
  const solver = solve(
    v('in', pin, 1e-3),
    element('T', pushPullOutputTransformer, nets, values),
    r('tie', 's', 'gnd', 1e3),
  );
  const index = solver.compiled.branches.indexOf('in.current');
  return -1e-3 / solver.unknowns[solver.compiled.nets.length + index]!;
}

describe('push-pull output transformer', () => {
  it('is copper alone at rest, each half with its tap in proportion to the turns', () => {
    // Limits: the 1e-15 S tie beside 110 Ω leaves nothing; the rest is rounding.
    expect(ohmsToCentre('a')).toBeCloseTo(90, 6);
    expect(ohmsToCentre('b')).toBeCloseTo(110, 6);
    expect(ohmsToCentre('ta')).toBeCloseTo(0.43 * 90, 6);
    expect(ohmsToCentre('tb')).toBeCloseTo(0.43 * 110, 6);
  });

  it('reports the larger of the two halves and the heat of both', () => {
    const solver = solve(
      v('in', 'ct', 100),
      element('T', pushPullOutputTransformer, pins, values),
      ...[r('one', 'a', 'gnd', 910), r('two', 'b', 'gnd', 1890), r('tie', 's', 'gnd', 8)],
    );
    const figures = elementFigures(solver, 'T');
    // 100 V over 90 + 910 Ω and over 110 + 1890 Ω.
    expect(figures[0]).toMatchObject({ what: 'primary current', value: expect.closeTo(0.1, 9) as number });
    expect(figures[1]?.value).toBeCloseTo(0.1 ** 2 * 90 + 0.05 ** 2 * 110, 9);
  });

  const input: Stimulus = { kind: 'parameter', element: 'in', name: 'volts' };

  it('passes a signal from anode to anode as the plain transformer does, and gives the taps their part', () => {
    const nets = ['a', 'ta', 'ct', 'tb', 'gnd', 's', 'gnd'];
    const own = solve(
      v('in', 'a', 0),
      element('T', pushPullOutputTransformer, nets, { ...values, ratio: 25 }),
      r('load', 's', 'gnd', 8),
    );
    const plain = solve(
      v('in', 'a', 0),
      element('T', outputTransformer, ['a', 'gnd', 's', 'gnd'], {
        ...{ ratio: 25, primaryHenries: 40, primaryOhms: 200, secondaryOhms: 0.5 },
      }),
      r('load', 's', 'gnd', 8),
    );
    const [mine, theirs] = [new SmallSignal(own), new SmallSignal(plain)];
    for (const hertz of [20, 1e3]) {
      const [one, other] = [mine.transfer(input, 's', hertz), theirs.transfer(input, 's', hertz)];
      expect(one[0]).toBeCloseTo(other[0], 12);
      expect(one[1]).toBeCloseTo(other[1], 12);
    }
    // Turns from anode a: 0.57 / 2 to the first tap, half to the centre; copper of 200 Ω beside 5.3 kΩ shifts it by less than 1 %.
    expect(1 - mine.transfer(input, 'ta', 1e3)[0]).toBeCloseTo(0.57 / 2, 2);
    expect(mine.transfer(input, 'ct', 1e3)[0]).toBeCloseTo(0.5, 2);
  });

  it('gives nothing at the secondary for what both anodes carry alike', () => {
    const alike = solve(
      v('in', 'a', 0),
      element('T', pushPullOutputTransformer, ['a', 'ta', 'ct', 'tb', 'a', 's', 'gnd'], {
        ...values,
        secondOhms: 90,
      }),
      ...[r('load', 's', 'gnd', 8), r('feed', 'ct', 'gnd', 100)],
    );
    expect(new SmallSignal(alike).transfer(input, 's', 1e3)[0]).toBeCloseTo(0, 9);
  });
});
