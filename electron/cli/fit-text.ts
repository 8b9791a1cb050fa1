import type {
  FitReport,
  MovedReading,
  RatingChange,
  SocketFit,
} from '../../shared-core/faults/fit-report.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../shared-core/units/unit.ts';
import { headLine } from './expect-text.ts';
import type { Setting } from './kit-options.ts';
import { formatTable } from './table.ts';

const right = { side: 'right' } as const;

const verdictWords = { fits: 'fits as is', changed: 'fits with changed readings', no: 'do not fit' } as const;

/** Ratings below this many percent, and not much moved, are only counted. */
const ratingWorthShowing = 60;

/** The answer about other valves as a page of text. */
export function fitText({ chosen, bench }: Setting, fit: FitReport): string {
  return [
    headLine(chosen, bench),
    fit.words,
    ...reasonsText(fit),
    ...fit.sockets.map(socketText),
    ...(fit.notes.length > 0 ? [fit.notes.join('\n')] : []),
    ...ratingsText('Windings and fuses', fit.windings),
    ...ratingsText(
      'Ratings',
      fit.ratings.filter(({ percent }) => percent >= ratingWorthShowing),
    ),
    ...readingsText(fit.readings),
  ].join('\n\n');
}

function reasonsText({ reasons }: FitReport): readonly string[] {
  return reasons.map(({ socket, text, damage }) => {
    const where = socket === '' ? '' : `${socket}: `;
    return `  ${where}${text}${damage === null ? '' : `\n    Damage: ${damage}`}`;
  });
}

function socketText(socket: SocketFit): string {
  const { kitType, type, title, verdict, base, pins, heater, points, notes } = socket;
  const head = `${socket.socket}, ${title}: ${type} for ${kitType} · ${verdictWords[verdict]}`;
  if (!base.isSame) return [head, ...notes].join('\n');
  const table = formatTable(
    [
      { title: 'Pin', ...right },
      { title: 'Wired for' },
      { title: `${type} has` },
      { title: 'Joined to' },
      { title: 'Brings', ...right },
      { title: '' },
    ],
    pins.map(({ pin, wiredFor, has, net, volts, isAlternating, fit }) => [
      String(pin),
      wiredFor,
      has,
      net ?? '',
      volts === null
        ? ''
        : `${figure(Math.abs(volts) < 0.05 ? 0 : volts, 'V')} ${isAlternating ? 'AC' : 'DC'}`,
      fit === 'differs' ? 'DIFFERS' : fit === 'harmless' ? 'no matter' : '',
    ]),
  );
  const wires = heater.map(
    (wire) =>
      `Heater, pins ${wire.pins.join(' and ')}: ${figure(wire.volts, 'V')} of ${figure(wire.ratedVolts, 'V')}, ` +
      `${figure(wire.amps, 'A')} of ${figure(wire.ratedAmps, 'A')}.`,
  );
  return [[head, ...notes].join('\n'), table, wires.join('\n'), ...pointsText(points)]
    .filter((part) => part !== '')
    .join('\n\n');
}

function pointsText(points: SocketFit['points']): readonly string[] {
  if (points.length === 0) return [];
  const rows = points.map(({ section, what, unit, before, after }) => [
    section,
    what,
    figure(before, unit),
    figure(after, unit),
  ]);
  const columns = [
    { title: 'Section' },
    { title: 'Operating point' },
    { title: 'Was', ...right },
    { title: 'Is', ...right },
  ];
  return [formatTable(columns, rows)];
}

function ratingsText(title: string, ratings: readonly RatingChange[]): readonly string[] {
  if (ratings.length === 0) return [];
  const sorted = [...ratings].sort((one, other) => other.percent - one.percent);
  const rows = sorted.map(({ part, what, value, limit, unit, percent, before, isOver }) => [
    part,
    what,
    figure(value, unit),
    figure(limit, unit),
    before === null ? '' : `${before.toFixed(0)} %`,
    `${percent.toFixed(0)} %`,
    isOver ? 'OVER' : '',
  ]);
  const columns = [
    { title: 'Part' },
    { title },
    { title: 'Here', ...right },
    { title: 'Limit', ...right },
    { title: 'Was', ...right },
    { title: 'Is', ...right },
    { title: '' },
  ];
  return [formatTable(columns, rows)];
}

function readingsText(readings: readonly MovedReading[]): readonly string[] {
  if (readings.length === 0) return [];
  const rows = readings.map(({ id, condition, unit, before, after, movedShare, isInside }) => [
    id,
    condition,
    figure(before.nominal, unit),
    after === null ? 'not predicted' : figure(after.low, unit),
    after === null ? '' : figure(after.nominal, unit),
    after === null ? '' : figure(after.high, unit),
    movedShare === null ? '' : moved(movedShare),
    isInside || after === null ? '' : 'outside the kit’s band',
  ]);
  const columns = [
    { title: 'Reading' },
    { title: 'In' },
    { title: 'Was', ...right },
    { title: 'Low', ...right },
    { title: 'Nominal', ...right },
    { title: 'High', ...right },
    { title: 'Moved', ...right },
    { title: '' },
  ];
  return [formatTable(columns, rows)];
}

function moved(share: number): string {
  const percent = 100 * share;
  if (Math.abs(percent) < 0.05) return '0 %';
  const size = Math.abs(percent) < 10 ? Math.abs(percent).toFixed(1) : Math.abs(percent).toFixed(0);
  return `${percent < 0 ? '−' : '+'}${size} %`;
}

function figure(value: number | null, unit: Unit): string {
  return value === null ? '' : formatQuantity(value, unit, 3);
}
