import { outputTransformer } from '../../shared-core/devices/output-transformer.ts';
import { pentode } from '../../shared-core/devices/pentode.ts';
import { triode } from '../../shared-core/devices/triode.ts';
import { c, circuit, element, l, r, v } from './circuit.ts';

/** A pentode output stage with cathode bias, driven by a triode, choke-filtered. 18 unknowns. */
export const outputStage = circuit(
  v('B', 'b', 290),
  v('in', 'g1', 0),
  ...[l('L1', 'b', 'b1', 10, 200), c('C1', 'b1', 'gnd', 47e-6), r('R1', 'b1', 'b2', 22e3)],
  ...[c('C2', 'b2', 'gnd', 22e-6), r('R2', 'b2', 'a1', 100e3), r('R3', 'k1', 'gnd', 1500)],
  ...[c('C3', 'a1', 'g2', 22e-9), r('R4', 'g2', 'gnd', 470e3), r('R5', 'g2', 'g2s', 4700)],
  ...[r('R6', 'b1', 's', 1e3), r('R7', 'k2', 'gnd', 210), c('C4', 'k2', 'gnd', 220e-6)],
  ...[r('load', 'out', 'gnd', 8)],
  element('T1', outputTransformer, ['b1', 'a2', 'out', 'gnd'], { ratio: 25.6 }),
  element('V1', triode, ['a1', 'g1', 'k1']),
  element('V2', pentode, ['a2', 's', 'g2s', 'k2']),
);
