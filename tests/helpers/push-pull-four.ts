import type { CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { pentode } from '../../shared-core/devices/pentode.ts';
import { potentiometer } from '../../shared-core/devices/potentiometer.ts';
import { pushPullOutputTransformer } from '../../shared-core/devices/push-pull-output-transformer.ts';
import { triode } from '../../shared-core/devices/triode.ts';
import { c, element, l, r, v } from './circuit.ts';
import { singleFaults } from './push-pull.ts';

/** Koren EL34 fit, as the smaller push-pull circuit has it. */
const el34 = { mu: 11.3, ex: 1.251, kg1: 535.99, kp: 65.67, kvb: 34.6, kg2: 2453.6 };

/** One output valve with its stoppers, on a side's drive, anode and screen tap. */
function outputValve(id: number, drive: string, anode: string, tap: string): readonly CircuitElement[] {
  return [
    r(`R${id}0`, drive, `g${id}`, 2200),
    r(`R${id}1`, tap, `s${id}`, 470),
    r(`R${id}2`, anode, `a${id}`, 22),
    r(`R${id}3`, `k${id}`, 'gnd', 10),
    element(`V${id}`, pentode, [`a${id}`, `s${id}`, `g${id}`, `k${id}`], el34),
  ];
}

/** Bias of one side: an adjuster whose open wiper leaves the grids most negative. */
function biasOfSide(id: number, drive: string, bias: string): readonly CircuitElement[] {
  return [
    element(`P${id}`, potentiometer, ['m', bias, 'q'], { ohms: 25e3, position: 0.7 }),
    r(`R${id}4`, 'm', bias, 470e3),
    r(`R${id}5`, bias, drive, 100e3),
    c(`C${id}5`, bias, 'gnd', 10e-6),
  ];
}

/**
 * An invented push-pull amplifier with four output valves in ultra-linear connection, for speed: input stage,
 * long-tailed pair, four EL34, filtered bias supply with an adjuster for each side, feedback. 43 nets, 312 faults.
 */
export const pushPullFour: readonly CircuitElement[] = [
  ...[v('B', 'b', 440), v('in', 'in', 0), v('N', 'neg', -75)],
  ...[l('L1', 'b', 'b1', 10, 150), c('C1', 'b', 'gnd', 100e-6), c('C2', 'b1', 'gnd', 47e-6)],
  ...[r('R17', 'b', 'gnd', 220e3), c('C11', 'gnd', 'neg', 47e-6)],
  ...[r('R1', 'b1', 'b2', 4700), c('C3', 'b2', 'gnd', 22e-6), r('R2', 'b2', 'b3', 22e3)],
  ...[c('C4', 'b3', 'gnd', 22e-6), r('R3', 'in', 'g1', 68e3), r('R4', 'in', 'gnd', 1e6)],
  ...[r('R5', 'b3', 'a1', 100e3), r('R6', 'k1', 'f', 1500), c('C5', 'k1', 'f', 22e-6)],
  ...[r('R7', 'f', 'gnd', 100), r('R8', 'out', 'f', 8200)],
  element('V1', triode, ['a1', 'g1', 'k1']),
  ...[r('R9', 'b2', 'a2', 82e3), r('R10', 'b2', 'a3', 91e3), r('R11', 'k2', 't', 1000)],
  ...[r('R12', 't', 'gnd', 15e3), c('C6', 'a1', 'g2', 1e-7), r('R13', 'g2', 't', 1e6)],
  ...[c('C7', 'g3', 'gnd', 1e-7), r('R14', 'g3', 't', 1e6)],
  element('V2-left', triode, ['a2', 'g2', 'k2']),
  element('V2-right', triode, ['a3', 'g3', 'k2']),
  ...[c('C8', 'a2', 'h1', 2.2e-7), c('C9', 'a3', 'h2', 2.2e-7)],
  ...[r('R15', 'neg', 'm', 2200), c('C10', 'gnd', 'm', 47e-6), r('R16', 'q', 'gnd', 10e3)],
  ...biasOfSide(2, 'h1', 'n1'),
  ...biasOfSide(3, 'h2', 'n2'),
  ...[...outputValve(4, 'h1', 'pa', 'ta'), ...outputValve(5, 'h1', 'pa', 'ta')],
  ...[...outputValve(6, 'h2', 'pb', 'tb'), ...outputValve(7, 'h2', 'pb', 'tb')],
  element('T1', pushPullOutputTransformer, ['pa', 'ta', 'b', 'tb', 'pb', 'out', 'gnd'], {
    ...{ ratio: 21, primaryHenries: 60, firstOhms: 60, secondOhms: 64, secondaryOhms: 0.3 },
  }),
  r('load', 'out', 'gnd', 8),
];

/** What else goes wrong with a part that stays in its place. */
const drifts: Readonly<Record<string, readonly (readonly [string, string, (value: number) => number])[]>> = {
  resistor: [
    ['three times its value', 'ohms', (ohms) => 3 * ohms],
    ['a third of its value', 'ohms', (ohms) => ohms / 3],
  ],
  capacitor: [['leaky', 'leakageSiemens', () => 1e-6]],
  triode: [['weak', 'emission', () => 0.5]],
  pentode: [
    ['weak', 'emission', () => 0.5],
    ['gassy', 'gasRatio', () => 1e-3],
  ],
};

/** Every single fault of a list of elements, and each part adrift where parts of its kind go adrift. */
export function faultList(
  elements: readonly CircuitElement[],
): { readonly title: string; readonly elements: readonly CircuitElement[] }[] {
  const adrift = elements.flatMap((part) =>
    (drifts[part.device.name] ?? []).map(([what, name, change]) => ({
      title: `${part.id} ${what}`,
      elements: elements.map((each) =>
        each === part
          ? { ...each, parameters: { ...each.parameters, [name]: change(each.parameters[name] ?? 0) } }
          : each,
      ),
    })),
  );
  return [...singleFaults(elements), ...adrift];
}
