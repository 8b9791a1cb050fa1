import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { bjt } from '../../../shared-core/devices/bjt.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { heater } from '../../../shared-core/devices/heater.ts';
import { led } from '../../../shared-core/devices/led.ts';
import { linearRegulator } from '../../../shared-core/devices/linear-regulator.ts';
import { mosfet } from '../../../shared-core/devices/mosfet.ts';
import { pentode } from '../../../shared-core/devices/pentode.ts';
import { pushPullOutputTransformer } from '../../../shared-core/devices/push-pull-output-transformer.ts';
import { triode } from '../../../shared-core/devices/triode.ts';
import { zenerParameters } from '../../../shared-core/devices/zener.ts';
import { c, circuit, element, r, v } from '../../helpers/circuit.ts';

/** Circuits with every semiconductor device and the push-pull transformer, each with a DC way for every net. */
export const semiconductorCircuits: readonly { readonly title: string; readonly of: Circuit }[] = [
  {
    title: 'long-tailed pair on a transistor current source with an LED reference',
    of: circuit(
      v('HT', 'ht', 300),
      v('BIAS', 'neg', -12),
      element('V1a', triode, ['a1', 'g1', 'k']),
      element('V1b', triode, ['a2', 'g2', 'k']),
      r('R1', 'ht', 'a1', 100e3),
      r('R2', 'ht', 'a2', 110e3),
      r('R3', 'g1', 'gnd', 1e6),
      r('R4', 'g2', 'gnd', 1e6),
      element('Q1', bjt, ['k', 'b', 'e']),
      element('D1', led, ['b', 'neg']),
      r('R5', 'gnd', 'b', 4700),
      r('R6', 'e', 'neg', 560),
    ),
  },
  {
    title: 'MOSFET source follower behind a triode with a gate Zener',
    of: circuit(
      v('HT', 'ht', 280),
      element('V1', triode, ['a', 'g', 'k']),
      r('R1', 'ht', 'a', 100e3),
      r('R2', 'k', 'gnd', 1500),
      r('R3', 'g', 'gnd', 470e3),
      r('R4', 'a', 'gate', 1000),
      element('Q1', mosfet, ['ht', 'gate', 's'], { transconductance: 0.4 }),
      element('D1', diode, ['s', 'gate'], zenerParameters({ volts: 12, amps: 5e-3, ohms: 10 })),
      r('R5', 's', 'gnd', 22e3),
    ),
  },
  {
    title: 'triode with a p-channel current source as its load and a follower on an n-channel one',
    of: circuit(
      v('HT', 'ht', 300),
      element('V1', triode, ['a', 'g', 'k']),
      r('R1', 'g', 'gnd', 470e3),
      r('R2', 'k', 'gnd', 1000),
      element('Q1', mosfet, ['a', 'g1', 's1'], { polarity: -1, transconductance: 0.2 }),
      r('R3', 'ht', 's1', 470),
      r('R4', 'g1', 'gnd', 470e3),
      r('R8', 'ht', 'g1', 6800),
      element('V2', triode, ['ht', 'a', 'k2']),
      element('Q3', mosfet, ['k2', 'g3', 's3'], { transconductance: 0.3 }),
      r('R5', 's3', 'gnd', 1000),
      r('R6', 'ht', 'g3', 1e6),
      r('R7', 'g3', 'gnd', 22e3),
    ),
  },
  {
    title: 'adjustable regulator for 6.3 V heaters',
    of: circuit(
      v('IN', 'in', 10.5),
      r('R0', 'in', 'i', 0.1),
      element('U1', linearRegulator, ['i', 'o', 'adj']),
      r('R1', 'o', 'adj', 120),
      r('R2', 'adj', 'gnd', 470),
      element('V1', heater, ['o', 'gnd'], { ratedAmps: 0.3 }),
      element('V2', heater, ['o', 'gnd'], { ratedAmps: 0.3 }),
      element('D1', diode, ['o', 'i']),
    ),
  },
  {
    title: 'fixed regulators, positive and negative, on one bridge',
    of: circuit(
      v('P', 'p', 12),
      v('N', 'n', -12),
      element('U1', linearRegulator, ['p', 'po', 'gnd'], {
        ...{ referenceVolts: 5, outputOhms: 0.03, dropoutVolts: 1.6, limitAmps: 1 },
        ...{ leastLoadAmps: 0, adjustAmps: 5e-3 },
      }),
      element('U2', linearRegulator, ['n', 'no', 'gnd'], {
        ...{ polarity: -1, referenceVolts: 5, outputOhms: 0.03, dropoutVolts: 1.3, limitAmps: 1 },
        ...{ leastLoadAmps: 0, adjustAmps: 3e-3 },
      }),
      r('R1', 'po', 'gnd', 47),
      r('R2', 'no', 'gnd', 68),
      r('R3', 'po', 'no', 220),
      element('D1', led, ['po', 'd']),
      r('R4', 'd', 'gnd', 330),
    ),
  },
  {
    title: 'screen supply: Zener chain and emitter follower',
    of: circuit(
      v('HT', 'ht', 400),
      r('R1', 'ht', 'b', 47e3),
      element('D1', diode, ['m', 'b'], zenerParameters({ volts: 150, amps: 2e-3, ohms: 200 })),
      element('D2', diode, ['gnd', 'm'], zenerParameters({ volts: 150, amps: 2e-3, ohms: 200 })),
      r('R7', 'm', 'gnd', 1e6),
      r('R2', 'ht', 'c', 1000),
      element('Q1', bjt, ['c', 'b', 'e'], { forwardGain: 60, saturationAmps: 1e-12 }),
      r('R3', 'e', 'gnd', 15e3),
      r('R4', 'e', 's', 470),
      r('R5', 's', 'gnd', 47e3),
    ),
  },
  {
    title: 'ultra-linear push-pull stage with unlike halves',
    of: circuit(
      v('HT', 'ht', 380),
      element('T2', pushPullOutputTransformer, ['a1', 't1', 'ht', 't2', 'a2', 'sec', 'gnd'], {
        firstOhms: 110,
        secondOhms: 135,
      }),
      r('RL', 'sec', 'gnd', 8),
      element('V1', pentode, ['a1', 's1', 'g1', 'k1']),
      element('V2', pentode, ['a2', 's2', 'g2', 'k2']),
      r('R1', 't1', 's1', 470),
      r('R2', 't2', 's2', 470),
      r('R3', 'g1', 'gnd', 330e3),
      r('R4', 'g2', 'gnd', 330e3),
      r('R5', 'k1', 'gnd', 270),
      r('R6', 'k2', 'gnd', 270),
      c('C1', 'k1', 'gnd', 100e-6),
      c('C2', 'k2', 'gnd', 100e-6),
    ),
  },
];
