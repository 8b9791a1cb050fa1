import type { CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { diode } from '../../shared-core/devices/diode.ts';
import { outputTransformer } from '../../shared-core/devices/output-transformer.ts';
import { pentode } from '../../shared-core/devices/pentode.ts';
import { triode } from '../../shared-core/devices/triode.ts';
import { c, element, l, r, v } from './circuit.ts';

/** Koren EL34 fit: any output pentode would do here. */
const output = { mu: 11.3, ex: 1.251, kg1: 535.99, kp: 65.67, kvb: 34.6, kg2: 2453.6 };
const zener = { breakdownVolts: 47, breakdownOhms: 10, breakdownAmps: 1e-4 };

/**
 * An invented push-pull amplifier for convergence and speed: input stage, long-tailed pair, two output
 * pentodes with fixed bias from a Zener, choke filter. 38 unknowns.
 */
export const pushPull: readonly CircuitElement[] = [
  ...[v('B', 'b', 420), v('in', 'in', 0), v('N', 'neg', -60)],
  ...[l('L1', 'b', 'b1', 10, 150), c('C1', 'b', 'gnd', 47e-6), c('C2', 'b1', 'gnd', 47e-6)],
  ...[r('R1', 'b1', 'b2', 10e3), c('C3', 'b2', 'gnd', 22e-6), r('R2', 'b2', 'b3', 22e3)],
  ...[c('C4', 'b3', 'gnd', 22e-6), r('R3', 'in', 'g1', 68e3), r('R4', 'in', 'gnd', 1e6)],
  ...[r('R5', 'b3', 'a1', 100e3), r('R6', 'k1', 'gnd', 1500), c('C5', 'k1', 'gnd', 22e-6)],
  element('V1', triode, ['a1', 'g1', 'k1']),
  ...[
    r('R7', 'b2', 'a2', 82e3),
    r('R8', 'b2', 'a3', 91e3),
    r('R9', 'k2', 't', 1e3),
    r('R10', 't', 'gnd', 15e3),
  ],
  ...[
    c('C6', 'a1', 'g2', 1e-7),
    r('R11', 'g2', 't', 1e6),
    c('C7', 'g3', 'gnd', 1e-7),
    r('R12', 'g3', 't', 1e6),
  ],
  ...[element('V2-left', triode, ['a2', 'g2', 'k2']), element('V2-right', triode, ['a3', 'g3', 'k2'])],
  ...[
    c('C8', 'a2', 'h1', 1e-7),
    c('C9', 'a3', 'h2', 1e-7),
    r('R13', 'h1', 'n', 220e3),
    r('R14', 'h2', 'n', 220e3),
  ],
  ...[r('R15', 'h1', 'g4', 4700), r('R16', 'h2', 'g5', 4700), r('R17', 'neg', 'z', 2200)],
  ...[element('D1', diode, ['z', 'gnd'], zener), r('R18', 'z', 'n', 10e3), r('R19', 'n', 'gnd', 27e3)],
  element('T1', outputTransformer, ['b', 'a4', 'out', 'gnd']),
  element('T2', outputTransformer, ['b', 'a5', 'out', 'gnd']),
  ...[r('load', 'out', 'gnd', 8), r('R20', 'b1', 's4', 1e3), r('R21', 'b1', 's5', 1e3)],
  ...[r('R22', 'k4', 'gnd', 10), r('R23', 'k5', 'gnd', 10)],
  element('V3', pentode, ['a4', 's4', 'g4', 'k4'], output),
  element('V4', pentode, ['a5', 's5', 'g5', 'k5'], output),
];

/**
 * Every single fault of a list of elements: each one missing; each two of its pins joined by 0.1 Ω; of
 * those with more than two pins, each pin open. Sources are left alone.
 */
export function singleFaults(
  elements: readonly CircuitElement[],
): { readonly title: string; readonly elements: readonly CircuitElement[] }[] {
  const faults: { title: string; elements: readonly CircuitElement[] }[] = [];
  for (const part of elements) {
    if (part.device.name === 'voltage-source') continue;
    faults.push({ title: `${part.id} missing`, elements: elements.filter((each) => each !== part) });
    part.nets.forEach((net, index) => {
      const pin = part.device.pins[index]!;
      part.nets.slice(index + 1).forEach((other) => {
        if (other === net) return;
        const title = `${part.id} ${pin} joined to ${other}`;
        faults.push({ title, elements: [...elements, r('short', net, other, 0.1)] });
      });
      if (part.nets.length < 3) return;
      const nets = part.nets.map((each, place) => (place === index ? 'cut' : each));
      const open = elements.map((each) => (each === part ? { ...part, nets } : each));
      faults.push({ title: `${part.id} ${pin} open`, elements: open });
    });
  }
  return faults;
}
