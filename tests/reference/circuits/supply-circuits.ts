import { lawNumbers } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import { bjt } from '../../../shared-core/devices/bjt.ts';
import { chargePumpSupply } from '../../../shared-core/devices/charge-pump-supply.ts';
import { chokeInputSupply } from '../../../shared-core/devices/choke-input-supply.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { doublerSupply } from '../../../shared-core/devices/doubler-supply.ts';
import { fuse } from '../../../shared-core/devices/fuse.ts';
import { gasStabiliser } from '../../../shared-core/devices/gas-stabiliser.ts';
import { heater } from '../../../shared-core/devices/heater.ts';
import { lamp } from '../../../shared-core/devices/lamp.ts';
import { mosfet } from '../../../shared-core/devices/mosfet.ts';
import { outputTransformer } from '../../../shared-core/devices/output-transformer.ts';
import { rectifierSupply } from '../../../shared-core/devices/rectifier-supply.ts';
import { rectifierValve } from '../../../shared-core/devices/rectifier-valve.ts';
import { switchContact } from '../../../shared-core/devices/switch.ts';
import { zenerParameters } from '../../../shared-core/devices/zener.ts';
import { c, circuit, element, l, r, v } from '../../helpers/circuit.ts';
import { type StudyCircuit, valve } from './study-circuit.ts';

const silicon = (phase: 1 | 2, emfVolts: number, ohms: number, junctions = 1) => ({
  [`phase${phase}EmfVolts`]: emfVolts,
  [`phase${phase}Ohms`]: ohms,
  [`phase${phase}Law`]: lawNumbers.semiconductor,
  [`phase${phase}Junctions`]: junctions,
});
const vacuum = (phase: 1 | 2, emfVolts: number, ohms: number) => ({
  [`phase${phase}EmfVolts`]: emfVolts,
  [`phase${phase}Ohms`]: ohms,
  [`phase${phase}Law`]: lawNumbers.valve,
});

/** Supplies of every form with what they feed. */
export const supplyCircuits: readonly StudyCircuit[] = [
  {
    title: 'single-ended amplifier on a valve rectifier with capacitor input',
    moved: 'in',
    of: circuit(
      element('G1', rectifierSupply, ['b', 'gnd'], { ...vacuum(1, 390, 170), ...vacuum(2, 388, 180) }),
      ...[v('in', 'in', 0), c('C1', 'b', 'gnd', 47e-6), l('L1', 'b', 'b1', 10, 250)],
      ...[c('C2', 'b1', 'gnd', 47e-6), r('R1', 'b1', 'b2', 15e3), c('C3', 'b2', 'gnd', 22e-6)],
      ...[r('R2', 'b2', 'a1', 100e3), r('R3', 'in', 'g1', 1e3), r('R4', 'in', 'gnd', 1e6)],
      ...[r('R5', 'k1', 'gnd', 1200), c('C4', 'a1', 'g2', 1e-7), r('R6', 'g2', 'gnd', 330e3)],
      ...[r('R7', 'k2', 'gnd', 560), c('C5', 'k2', 'gnd', 220e-6), r('R8', 'out', 'gnd', 8)],
      element('T1', outputTransformer, ['b1', 'a2', 'out', 'gnd'], { ratio: 20, primaryOhms: 180 }),
      ...[valve('V1', 'ECC83', ['a1', 'g1', 'k1']), valve('V2', 'EL34', ['a2', 's2', 'g2', 'k2'])],
      ...[r('R9', 'a2', 's2', 100), r('R10', 'b', 'gnd', 220e3)],
    ),
  },
  {
    title: 'choke-input supply with a gas stabiliser for the screens',
    moved: 'in',
    of: circuit(
      element('G1', chokeInputSupply, ['x', 'gnd'], {
        ...{ ...silicon(1, 480, 60), ...silicon(2, 480, 60), chokeHenries: 12, chokeOhms: 110 },
      }),
      ...[l('L1', 'x', 'b', 12, 110), c('C1', 'b', 'gnd', 100e-6), r('R1', 'b', 'gnd', 47e3)],
      ...[r('R2', 'b', 'st', 3300), element('V9', gasStabiliser, ['st', 'gnd']), v('in', 'in', 0)],
      ...[r('R3', 'st', 's', 100), r('R4', 'in', 'g', 1e3), r('R5', 'in', 'gnd', 470e3)],
      ...[r('R6', 'k', 'gnd', 150), valve('V1', 'EL84', ['a', 's', 'g', 'k'])],
      element('T1', outputTransformer, ['b', 'a', 'out', 'gnd'], { ratio: 28 }),
      r('R7', 'out', 'gnd', 8),
    ),
  },
  {
    title: 'full-wave doubler with a MOSFET hum filter',
    moved: 'in',
    of: circuit(
      element('G1', doublerSupply, ['b', 'm', 'gnd'], {
        ...{ ...silicon(1, 170, 20), ...silicon(2, 170, 20), upperFarads: 1e-4, lowerFarads: 1e-4 },
      }),
      ...[c('C1', 'b', 'm', 1e-4), c('C2', 'm', 'gnd', 1e-4), r('R1', 'b', 'm', 150e3)],
      ...[r('R2', 'm', 'gnd', 150e3), r('R3', 'b', 'f', 220e3), c('C3', 'f', 'gnd', 4.7e-6)],
      ...[r('R4', 'f', 'gnd', 2.2e6), r('R5', 'f', 'y', 470)],
      element('Q1', mosfet, ['b', 'y', 's'], { transconductance: 0.5, thresholdVolts: 3.2 }),
      element('D1', diode, ['s', 'y'], zenerParameters({ volts: 12, amps: 5e-3, ohms: 10 })),
      ...[r('R6', 's', 'b1', 22), c('C4', 'b1', 'gnd', 47e-6), v('in', 'in', 0), r('R7', 'in', 'g', 1e3)],
      ...[r('R8', 'b1', 'a', 10e3), r('R9', 'k', 'gnd', 390), valve('V1', 'ECC82', ['a', 'g', 'k'])],
      ...[c('C5', 'a', 'out', 1e-6), r('R10', 'out', 'gnd', 100e3), r('R11', 'in', 'gnd', 1e6)],
    ),
  },
  {
    title: 'fixed bias from a charge pump, HT from a bridge',
    moved: 'in',
    of: circuit(
      element('G1', rectifierSupply, ['b', 'gnd'], { ...silicon(1, 400, 45, 2), isBridge: 1 }),
      element('G2', chargePumpSupply, ['gnd', 'n'], { ...silicon(1, 60, 500), pumpFarads: 1e-6 }),
      ...[c('C1', 'b', 'gnd', 1e-4), c('C2', 'gnd', 'n', 47e-6), r('R1', 'n', 'n1', 4700)],
      ...[c('C3', 'gnd', 'n1', 47e-6), r('R2', 'n1', 'gnd', 47e3), v('in', 'in', 0)],
      ...[c('C4', 'in', 'g1', 1e-7), r('R3', 'g1', 'n1', 220e3), r('R4', 'b', 's1', 470)],
      ...[
        r('R5', 'k1', 'gnd', 10),
        valve('V1', 'KT88', ['a1', 's1', 'g1', 'k1']),
        r('R6', 'b', 'gnd', 150e3),
      ],
      element('T1', outputTransformer, ['b', 'a1', 'out', 'gnd'], { ratio: 18, primaryOhms: 90 }),
      r('R7', 'out', 'gnd', 8),
    ),
  },
  {
    title: 'heater chain on a lamp limiter, as if on direct current',
    moved: 'B',
    of: circuit(
      ...[v('B', 'line', 230), element('L1', lamp, ['line', 'a'], { ratedWatts: 60 })],
      ...[element('S1', switchContact, ['a', 'b']), element('F1', fuse, ['b', 'c'])],
      ...[r('R1', 'c', 'd', 330), element('V1', heater, ['d', 'e'], { ratedVolts: 15, ratedAmps: 0.3 })],
      element('V2', heater, ['e', 'f'], { ratedVolts: 17, ratedAmps: 0.3 }),
      element('V3', heater, ['f', 'gnd'], { ratedAmps: 0.3, hot: 0.2 }),
      ...[r('R2', 'e', 'gnd', 2200), element('L2', lamp, ['f', 'gnd'], { ratedVolts: 6.3, ratedWatts: 2 })],
    ),
  },
  {
    title: 'series regulator with pass triode, pentode amplifier and gas reference',
    moved: 'B',
    of: circuit(
      ...[v('B', 'b', 420), valve('V1', '6AS7G', ['b', 'g1', 'o']), r('R1', 'g1', 'a2', 1e3)],
      ...[r('R2', 'b', 'a2', 470e3), valve('V2', 'EF86', ['a2', 's2', 'g2', 'ref'])],
      ...[
        r('R3', 'o', 's2', 150e3),
        r('R4', 's2', 'gnd', 220e3),
        element('V3', gasStabiliser, ['ref', 'gnd']),
      ],
      ...[r('R5', 'o', 'ref', 12e3), r('R6', 'o', 'p', 100e3), r('R7', 'p', 'gnd', 120e3)],
      ...[r('R8', 'p', 'g2', 10e3), c('C1', 'o', 'g2', 1e-7), c('C2', 'o', 'gnd', 10e-6)],
      ...[r('R9', 'o', 'gnd', 6800), c('C3', 's2', 'gnd', 1e-6)],
    ),
  },
  {
    title: 'unlike anodes of a rectifier valve into a current source and a bipolar load',
    moved: 'V1',
    of: circuit(
      ...[v('V1', 'one', 300), v('V2', 'two', 290), r('R1', 'one', 'a1', 200), r('R2', 'two', 'a2', 200)],
      ...[element('D1', rectifierValve, ['a1', 'k']), element('D2', rectifierValve, ['a2', 'k'])],
      ...[element('I1', currentSource, ['k', 'gnd'], { amps: 0.04 }), r('R3', 'k', 'c', 4700)],
      ...[element('Q1', bjt, ['c', 'x', 'e'], { forwardGain: 80 }), r('R4', 'k', 'x', 470e3)],
      ...[r('R5', 'x', 'gnd', 10e3), r('R6', 'e', 'gnd', 220), c('C1', 'k', 'gnd', 47e-6)],
    ),
  },
];
