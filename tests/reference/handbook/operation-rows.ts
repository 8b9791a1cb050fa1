import { Solver } from '../../../shared-core/circuit/solver.ts';
import { sectionDevice, sectionFigures } from '../../../shared-core/valves/section-law.ts';
import type { TypicalOperation, ValveSection, ValveType } from '../../../shared-core/valves/valve-type.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';
import { outputWatts } from './output-watts.ts';
import type { HandbookRow } from './handbook-rows.ts';

/** Limits of slope and mu, and of the anode resistance, of a pentode joined to a triode. */
const triodeLimits = { transconductance: 0.1, mu: 0.1, anodeOhms: 0.15 } as const;

/** A published operation without signal, solved with its cathode resistor where it has one; its watts. */
export function operationRows(
  type: ValveType,
  section: ValveSection,
  operation: TypicalOperation,
): readonly HandbookRow[] {
  const { bias, source } = operation;
  const solved = solveOperation(section, operation);
  const how = bias.kind === 'grid' ? `${bias.volts} V` : `Rk ${bias.ohms}`;
  const what = `${type.name} ${wordsFor(section, operation)} ${how}`;
  const limit = operation.printOnly === undefined ? operation.limit : null;
  const row = (
    name: string,
    expected: number | undefined,
    computed: number,
    own: number | null,
  ): HandbookRow[] =>
    expected === undefined ? [] : [{ what: `${what} ${name}`, source, expected, computed, limit: own }];
  // Away from the reference point the screen law is known to be loose: printed unless the row states a limit.
  const screenLimit = operation.screenLimit ?? null;
  const isLifted = bias.kind === 'cathode' && (screenLimit !== null || section.device === 'triode');
  const lift = bias.kind === 'cathode' ? bias.ohms * (operation.anodeAmps + (operation.screenAmps ?? 0)) : 0;
  const { transconductance, mu, anodeOhms } = triodeFigures(section, solved);
  return [
    ...row('Ia', operation.anodeAmps, solved.anodeAmps, limit),
    ...row('Ig2', operation.screenAmps, solved.screenAmps, screenLimit),
    ...row('Vk', isLifted ? lift : undefined, solved.cathodeVolts, limit),
    ...row('gm', operation.transconductance, transconductance, triodeLimits.transconductance),
    ...row('mu', operation.mu, mu, triodeLimits.mu),
    ...row('ra', operation.anodeOhms, anodeOhms, triodeLimits.anodeOhms),
    ...row('watts', operation.load?.watts, outputWatts(section, operation, solved), null),
  ];
}

function wordsFor(section: ValveSection, { anodeVolts, screenVolts }: TypicalOperation): string {
  if (screenVolts !== undefined) return `${anodeVolts}/${screenVolts} V`;
  return section.device === 'pentode' ? `${anodeVolts} V as triode` : `${anodeVolts} V`;
}

/** Voltages to the cathode (V) and currents (A) without signal. */
export interface SolvedOperation {
  readonly anodeVolts: number;
  readonly screenVolts: number;
  readonly gridVolts: number;
  readonly cathodeVolts: number;
  /** With the screen joined to the anode, both together. */
  readonly anodeAmps: number;
  readonly screenAmps: number;
}

/** Solves one valve of a published operation with the solver of the product. */
function solveOperation(section: ValveSection, operation: TypicalOperation): SolvedOperation {
  const { anodeVolts, screenVolts = anodeVolts, measured, bias } = operation;
  const nets: Readonly<Record<string, string>> = { anode: 'a', screen: 's', grid: 'g', cathode: 'k' };
  const device = sectionDevice(section);
  const solver = new Solver(
    circuit(
      v('VA', 'a', anodeVolts),
      v('VS', 's', screenVolts),
      v('VG', 'g', bias.kind === 'grid' ? bias.volts : 0),
      bias.kind === 'grid' ? v('VK', 'k', 0) : r('RK', 'k', 'gnd', bias.ohms),
      element(
        'V1',
        device,
        device.pins.map((pin) => nets[pin]!),
        section.parameters,
      ),
    ),
  );
  let lift = 0;
  // Supplies quoted to the cathode are lifted with it; each round shrinks the rest by the valve's own mu.
  for (let round = 0; round < 60; round++) {
    solver.setParameter('VA', 'volts', anodeVolts + lift);
    solver.setParameter('VS', 'volts', screenVolts + lift);
    if (!solver.solve().converged) throw new Error('no operating point');
    if (measured === 'to chassis' || Math.abs(solver.volts('k') - lift) < 1e-9) break;
    lift = solver.volts('k');
  }
  const own = solver.evaluateElement('V1').stamp.residuals;
  const at = device.pins.indexOf('screen');
  const screenAmps = at < 0 ? 0 : own[at]!;
  const isJoined = operation.screenVolts === undefined;
  const cathodeVolts = solver.volts('k');
  return {
    anodeVolts: solver.volts('a') - cathodeVolts,
    screenVolts: solver.volts('s') - cathodeVolts,
    gridVolts: solver.volts('g') - cathodeVolts,
    cathodeVolts,
    anodeAmps: own[0]! + (isJoined ? screenAmps : 0),
    screenAmps,
  };
}

/** Slope, mu and anode resistance with the screen following the anode, by central differences of 0.1 V. */
function triodeFigures(
  section: ValveSection,
  { anodeVolts, gridVolts }: SolvedOperation,
): { readonly transconductance: number; readonly mu: number; readonly anodeOhms: number } {
  const amps = (anode: number, grid: number): number => {
    const figures = sectionFigures(section, { anodeVolts: anode, screenVolts: anode, gridVolts: grid });
    return figures.anodeAmps + figures.screenAmps;
  };
  const step = 0.1;
  const transconductance =
    (amps(anodeVolts, gridVolts + step) - amps(anodeVolts, gridVolts - step)) / (2 * step);
  const anodeOhms = (2 * step) / (amps(anodeVolts + step, gridVolts) - amps(anodeVolts - step, gridVolts));
  return { transconductance, anodeOhms, mu: transconductance * anodeOhms };
}
