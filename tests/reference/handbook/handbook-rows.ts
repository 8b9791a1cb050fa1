import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { valveTypes } from '../../../shared-core/valves/index.ts';
import { sectionDevice, sectionFigures } from '../../../shared-core/valves/section-law.ts';
import type {
  CharacteristicPoint,
  ChartRow,
  ValveSection,
  ValveType,
} from '../../../shared-core/valves/valve-type.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';
import { operationRows } from './operation-rows.ts';
import { rectifierRows } from './rectifier-rows.ts';

/** One figure of a handbook and what the catalogue's model gives there. SI units. */
export interface HandbookRow {
  readonly what: string;
  readonly source: string;
  readonly expected: number;
  readonly computed: number;
  /** Relative limit; null for a figure that is printed only. */
  readonly limit: number | null;
}

/** Limits of the model: 10 % for current, slope and mu; 15 % for the anode resistance of triodes. */
const usual = { anodeAmps: 0.1, transconductance: 0.1, mu: 0.1, anodeOhms: 0.15, screenAmps: 0.1, drop: 0.1 };

/** Every published figure of every type of the catalogue; those of an equivalent once, with the first that has them. */
export function handbookRows(): readonly HandbookRow[] {
  const seen = new Set<object>();
  const fresh = <Row extends object>(rows: readonly Row[]): readonly Row[] =>
    rows.filter((row) => !seen.has(row) && seen.add(row));
  return valveTypes.flatMap((type) => [
    ...fresh(type.characteristics).flatMap((point) => characteristicRows(type, point)),
    ...fresh(type.operations).flatMap((operation) => operationRows(type, only(type), operation)),
    ...fresh(type.charts).map((row) => chartRow(type, row)),
    ...rectifierRows(type),
  ]);
}

/** (computed − expected) / expected. */
export function errorOf({ expected, computed }: HandbookRow): number {
  return (computed - expected) / expected;
}

function only(type: ValveType): ValveSection {
  const section = type.sections[0];
  if (section === undefined) throw new Error(`${type.name} has no section`);
  return section;
}

function characteristicRows(type: ValveType, point: CharacteristicPoint): readonly HandbookRow[] {
  const section = only(type);
  if (section.device === 'rectifier-valve' || section.device === 'gas-stabiliser') {
    return [dropRow(type, section, point)];
  }
  const figures = sectionFigures(section, point);
  const isPentode = section.device === 'pentode';
  const row = (
    what: string,
    expected: number | undefined,
    computed: number,
    limit: number | null,
  ): readonly HandbookRow[] =>
    expected === undefined
      ? []
      : [{ what: `${describe(type, point)} ${what}`, source: point.source, expected, computed, limit }];
  return [
    ...row('Ia', point.anodeAmps, figures.anodeAmps, point.limits?.anodeAmps ?? usual.anodeAmps),
    ...row(
      'Ig2',
      point.screenAmps,
      figures.screenAmps,
      point.limits?.screenAmps === null ? null : usual.screenAmps,
    ),
    ...row(
      'gm',
      point.transconductance,
      figures.transconductance,
      point.limits?.transconductance ?? usual.transconductance,
    ),
    ...row('mu', point.mu, figures.mu, usual.mu),
    ...row('mu g1-g2', point.screenMu, figures.screenMu, null),
    // The arctangent law is known to give 1.5 to 5 times the anode resistance of a pentode.
    ...row(
      'ra',
      point.anodeOhms,
      figures.anodeOhms,
      isPentode || point.limits?.anodeOhms === null ? null : usual.anodeOhms,
    ),
  ];
}

function describe(type: ValveType, point: CharacteristicPoint): string {
  const screen = point.screenVolts === undefined ? '' : `/${point.screenVolts}`;
  return `${type.name} ${point.anodeVolts}${screen}/${point.gridVolts} V`;
}

/** The drop of a rectifier, or what a stabiliser holds once it has struck, found by the product's solver. */
function dropRow(type: ValveType, section: ValveSection, point: CharacteristicPoint): HandbookRow {
  const solver = new Solver(
    circuit(
      element('I1', currentSource, ['gnd', 'a'], { amps: point.anodeAmps }),
      element('V1', sectionDevice(section), ['a', 'gnd'], section.parameters),
    ),
  );
  if (!solver.solve().converged) throw new Error('no operating point');
  return {
    what: `${type.name} drop at ${Math.round(1e4 * point.anodeAmps) / 10} mA`,
    source: point.source,
    expected: point.anodeVolts,
    computed: solver.volts('a'),
    limit: point.limits?.anodeVolts ?? usual.drop,
  };
}

/** Gain of a resistance-coupled stage at the operating point that the solver finds. */
function chartRow(type: ValveType, row: ChartRow): HandbookRow {
  const section = only(type);
  const solver = new Solver(
    circuit(
      v('VB', 'b', row.supplyVolts),
      v('VG', 'g', 0),
      r('RA', 'b', 'a', row.anodeOhms),
      r('RK', 'k', 'gnd', row.cathodeOhms),
      element('V1', sectionDevice(section), ['a', 'g', 'k'], section.parameters),
    ),
  );
  if (!solver.solve().converged) throw new Error('no operating point');
  const lift = solver.volts('k');
  const { transconductance, anodeOhms } = sectionFigures(section, {
    anodeVolts: solver.volts('a') - lift,
    gridVolts: -lift,
  });
  const load = 1 / (1 / anodeOhms + 1 / row.anodeOhms + 1 / row.gridOhms);
  const megohms = (ohms: number): string => String(ohms / 1e6);
  const resistors = `${megohms(row.anodeOhms)}/${megohms(row.gridOhms)} MΩ Rk ${row.cathodeOhms}`;
  return {
    what: `${type.name} chart ${row.supplyVolts} V ${resistors} gain`,
    source: row.source,
    expected: row.gain,
    computed: transconductance * load,
    limit: row.limit,
  };
}
