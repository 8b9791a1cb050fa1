import { bjt } from '../../../shared-core/devices/bjt.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { fuse } from '../../../shared-core/devices/fuse.ts';
import { led } from '../../../shared-core/devices/led.ts';
import { mosfet } from '../../../shared-core/devices/mosfet.ts';
import { outputTransformer } from '../../../shared-core/devices/output-transformer.ts';
import { potentiometer } from '../../../shared-core/devices/potentiometer.ts';
import { switchContact } from '../../../shared-core/devices/switch.ts';
import { tappedOutputTransformer } from '../../../shared-core/devices/tapped-output-transformer.ts';
import { c, circuit, element, l, r, v } from '../../helpers/circuit.ts';
import { outputStage } from '../../helpers/output-stage.ts';
import { pushPull } from '../../helpers/push-pull.ts';
import { type StudyCircuit, valve } from './study-circuit.ts';

/** Valve stages, from a preamplifier to whole amplifiers on an ideal supply. */
export const valveCircuits: readonly StudyCircuit[] = [
  { title: 'push-pull amplifier with a long-tailed pair', moved: 'in', of: circuit(...pushPull) },
  { title: 'single-ended pentode driven by a triode', moved: 'in', of: outputStage },
  {
    title: 'two RC-coupled triodes with volume control, fuse and mute switch',
    moved: 'in',
    of: circuit(
      ...[v('B', 'b', 300), v('in', 'in', 0), element('F1', fuse, ['b', 'bf'])],
      ...[r('R1', 'bf', 'b1', 10e3), c('C1', 'b1', 'gnd', 22e-6), r('R2', 'in', 'g1', 68e3)],
      ...[r('R3', 'in', 'gnd', 1e6), r('R4', 'b1', 'a1', 100e3), r('R5', 'k1', 'gnd', 1500)],
      ...[c('C2', 'k1', 'gnd', 22e-6), c('C3', 'a1', 'p', 22e-9), r('R6', 'b1', 'a2', 100e3)],
      element('P1', potentiometer, ['gnd', 'g2', 'p'], { ohms: 470e3, position: 0.7, taper: 1 }),
      ...[r('R7', 'k2', 'gnd', 1500), c('C4', 'a2', 'out', 100e-9), r('R8', 'out', 'gnd', 1e6)],
      ...[element('S1', switchContact, ['out', 'm'], { closed: 0 }), r('R9', 'm', 'gnd', 1000)],
      ...[valve('V1', 'ECC83', ['a1', 'g1', 'k1']), valve('V2', 'ECC83', ['a2', 'g2', 'k2'])],
    ),
  },
  {
    title: 'ultra-linear single-ended stage with a choke and a hum pot',
    moved: 'in',
    of: circuit(
      ...[v('B', 'b', 310), v('in', 'in', 0), l('L1', 'b', 'b1', 8, 180), c('C1', 'b1', 'gnd', 100e-6)],
      element('T1', tappedOutputTransformer, ['b1', 't', 'a', 'out', 'gnd'], { ratio: 30, tap: 0.4 }),
      ...[r('R1', 't', 's', 100), r('R2', 'in', 'g', 1e3), r('R3', 'in', 'gnd', 330e3)],
      ...[r('R4', 'k', 'gnd', 220), c('C2', 'k', 'gnd', 470e-6), r('R5', 'out', 'gnd', 8)],
      valve('V1', 'EL34', ['a', 's', 'g', 'k']),
    ),
  },
  {
    title: 'cathode follower that drives a directly heated triode into grid current',
    moved: 'in',
    of: circuit(
      ...[v('B', 'b', 420), v('N', 'neg', -160), v('in', 'in', 0)],
      ...[r('R1', 'in', 'g1', 10e3), r('R2', 'in', 'gnd', 470e3), r('R3', 'b', 'b1', 4700)],
      ...[c('C1', 'b1', 'gnd', 47e-6), r('R4', 'b1', 'a1', 47e3), r('R5', 'k1', 'gnd', 1000)],
      ...[c('C2', 'a1', 'g2', 220e-9), r('R6', 'g2', 'bias', 470e3), r('R7', 'gnd', 'bias', 47e3)],
      ...[r('R8', 'bias', 'neg', 68e3), r('R9', 'k2', 'neg', 8200), r('R10', 'k2', 'g3', 100)],
      valve('V1', 'ECC82', ['a1', 'g1', 'k1']),
      valve('V2', 'ECC82', ['b1', 'g2', 'k2']),
      element('T1', outputTransformer, ['b', 'a3', 'out', 'gnd'], { ratio: 20, primaryOhms: 110 }),
      ...[r('R11', 'out', 'gnd', 8), valve('V3', '300B', ['a3', 'g3', 'gnd'])],
    ),
  },
  {
    title: 'cascode, mu follower and White cathode follower, coupled directly',
    moved: 'in',
    of: circuit(
      ...[v('B', 'b', 360), v('in', 'in', 0), r('R1', 'in', 'g1', 1e3), r('R2', 'in', 'gnd', 1e6)],
      ...[r('R3', 'k1', 'gnd', 560), valve('V1', 'ECC88', ['m', 'g1', 'k1'])],
      ...[valve('V2', 'ECC88', ['a2', 'g2', 'm']), r('R4', 'b', 'g2', 470e3), r('R5', 'g2', 'gnd', 150e3)],
      ...[c('C1', 'g2', 'gnd', 1e-6), r('R6', 'b', 'a2', 22e3), r('R7', 'a2', 'g3', 220)],
      ...[valve('V3', 'ECC82', ['a3', 'g3', 'k3']), r('R8', 'k3', 'gnd', 33e3)],
      ...[r('R9', 'k4', 'a3', 1e3), valve('V4', 'ECC82', ['b', 'g4', 'k4']), r('R10', 'g4', 'a3', 1e6)],
      ...[c('C2', 'k4', 'g4', 1e-7), c('C3', 'k4', 'g5', 1e-7), r('R11', 'g5', 'k5', 1e6)],
      ...[valve('V5', 'ECC82', ['b', 'g5', 'x']), r('R12', 'x', 'k5', 470)],
      ...[valve('V6', 'ECC82', ['k5', 'g6', 'k6']), r('R13', 'k6', 'gnd', 470), r('R14', 'g6', 'gnd', 470e3)],
      ...[c('C4', 'x', 'g6', 2.2e-7), c('C5', 'k5', 'out', 1e-6), r('R15', 'out', 'gnd', 10e3)],
    ),
  },
  {
    title: 'triode on a current source of p-channel MOSFET and pnp clamp',
    moved: 'in',
    of: circuit(
      ...[v('B', 'b', 320), v('in', 'in', 0), r('R1', 'in', 'g', 1e3), r('R2', 'in', 'gnd', 470e3)],
      ...[element('D1', led, ['k', 'gnd']), valve('V1', 'ECC82', ['a', 'g', 'k'])],
      ...[r('R3', 'b', 's', 120), element('Q1', bjt, ['x', 's', 'b'], { polarity: -1 })],
      element('Q2', mosfet, ['a', 'y', 's'], { polarity: -1, transconductance: 0.15, thresholdVolts: 3 }),
      ...[r('R4', 'x', 'y', 220), r('R5', 'x', 'gnd', 680e3)],
      element('D2', diode, ['y', 's'], { breakdownVolts: 15 }),
      ...[c('C1', 'a', 'out', 1e-6), r('R6', 'out', 'gnd', 100e3)],
    ),
  },
];
