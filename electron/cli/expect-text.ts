import type { KitExpectation } from '../../shared-core/bands/expect-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Condition } from '../../shared-core/kit/kit.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import type {
  ConditionPrediction,
  RatingFigure,
  ReadingPrediction,
} from '../../shared-core/prediction/prediction.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../shared-core/units/unit.ts';
import type { Setting } from './kit-options.ts';
import { signalText } from './signal-text.ts';
import { formatTable } from './table.ts';

/** Ratings below this many percent are only counted. */
const ratingWorthShowing = 60;

/** The predictions as a page of text. */
export function expectText(
  { chosen, bench }: Setting,
  { predictions, signals }: Pick<KitExpectation, 'predictions' | 'signals'>,
): string {
  const meaning = 'Low and high: 98 of 100 healthy amplifiers show a figure between them.';
  return [
    `${headLine(chosen, bench)}\n${meaning}`,
    ...predictions.map((each) =>
      [conditionText(chosen, each), ...signalText(signals.get(each.condition))].join('\n\n'),
    ),
  ].join('\n\n\n');
}

/** "Heron, revision B · 230 V 50 Hz assumed (±6 %) · meter 10 MΩ". */
export function headLine(chosen: ChosenKit, bench: Bench): string {
  const { volts, hertz, source } = bench.mains;
  const spread = source === 'measured' ? 'as measured (±1 %)' : 'assumed (±6 %)';
  const mains = `mains ${formatQuantity(volts, 'V')} ${formatQuantity(hertz, 'Hz')} ${spread}`;
  return `${chosen.name}, revision ${chosen.revision} · ${mains} · meter ${bench.meter.label}`;
}

function conditionText(chosen: ChosenKit, prediction: ConditionPrediction): string {
  const condition = chosen.conditions.find(({ id }) => id === prediction.condition);
  const head = condition
    ? `${condition.title} (${condition.id}) · ${describeCondition(condition)}`
    : prediction.condition;
  return [
    head,
    ...(prediction.readings.length > 0 ? [readingsTable(prediction.readings)] : ['No readings here.']),
    ...notes(prediction.readings),
    ...lampText(prediction.lamp),
    ...ratingsText(prediction.ratings),
    ...solveText(prediction, condition),
  ].join('\n\n');
}

/** "Lamp of 60 W, settled: dark, at 0.2 % of its power; 228 V are left for the amplifier, which draws 50 mA." */
function lampText(lamp: ConditionPrediction['lamp']): readonly string[] {
  if (!lamp) return [];
  const share = `${(100 * lamp.powerShare).toPrecision(2)} % of its power`;
  const left = `${formatQuantity(lamp.amplifierVolts, 'V', 3)} are left for the amplifier`;
  const drawn = `which draws ${formatQuantity(lamp.amps, 'A', 2)}`;
  return [
    `Lamp of ${formatQuantity(lamp.watts, 'W')}, settled: ${lamp.looks}, at ${share}; ${left}, ${drawn}.`,
  ];
}

function describeCondition(condition: Condition): string {
  const { supply, lampWatts, fitted, readyAfterSeconds } = condition;
  const lamp = lampWatts === null ? '' : ` (${formatQuantity(lampWatts, 'W')} lamp)`;
  const valves =
    fitted === 'all'
      ? 'all valves fitted'
      : fitted.length === 0
        ? 'no valves'
        : `${fitted.join(', ')} fitted`;
  const ready = readyAfterSeconds > 0 ? `, ready after ${formatQuantity(readyAfterSeconds, 's')}` : '';
  return `${supply}${lamp}, ${valves}${ready}`;
}

function readingsTable(readings: readonly ReadingPrediction[]): string {
  const rows = readings.map((reading) => [
    reading.id,
    reading.against === 'gnd' ? reading.at : `${reading.at} to ${reading.against}`,
    reading.measure,
    ...figures(reading),
    stopText(reading),
  ]);
  const right = { side: 'right' } as const;
  return formatTable(
    [
      { title: 'Reading' },
      { title: 'Where' },
      { title: 'Measure' },
      { title: 'Low', ...right },
      { title: 'Nominal', ...right },
      { title: 'High', ...right },
      { title: 'Stop' },
    ],
    rows,
  );
}

function figures(reading: ReadingPrediction): readonly [string, string, string] {
  const { predicted, low, nominal, high, unit } = reading;
  if (predicted === 'overload') return ['', 'OL', ''];
  if (predicted === 'none') return ['', 'not predicted', ''];
  return [figure(low, unit), figure(nominal, unit), figure(high, unit)];
}

/** Three figures are what a meter on a bench can be held against. */
function figure(value: number | null, unit: Unit): string {
  return value === null ? '' : formatQuantity(value, unit, 3);
}

function stopText({ stopAbove, stopBelow, unit }: ReadingPrediction): string {
  const limits = [
    ...(stopBelow === null ? [] : [`below ${figure(stopBelow, unit)}`]),
    ...(stopAbove === null ? [] : [`above ${figure(stopAbove, unit)}`]),
  ];
  return limits.join(', ');
}

function notes(readings: readonly ReadingPrediction[]): readonly string[] {
  const byReason = new Map<string, string[]>();
  for (const { id, why } of readings) {
    if (why !== null) byReason.set(why, [...(byReason.get(why) ?? []), id]);
  }
  const lines = [...byReason].map(([why, ids]) => `${ids.join(', ')}: ${why}.`);
  return lines.length > 0 ? [lines.join('\n')] : [];
}

function ratingsText(ratings: readonly RatingFigure[]): readonly string[] {
  if (ratings.length === 0) return [];
  const sorted = [...ratings].sort((one, other) => other.percent - one.percent);
  const shown = sorted.filter(({ percent }) => percent >= ratingWorthShowing);
  const rest = sorted.length - shown.length;
  const counted = `${rest} rating${rest === 1 ? '' : 's'} below ${ratingWorthShowing} %.`;
  if (shown.length === 0) return [counted];
  const rows = shown.map(({ part, what, value, limit, unit, percent, basis }) => [
    part,
    what,
    formatQuantity(value, unit as Unit, 3),
    formatQuantity(limit, unit as Unit, 3),
    `${percent.toFixed(0)} %`,
    percent > 100 ? `${basis}  OVER` : basis,
  ]);
  const right = { side: 'right' } as const;
  const table = formatTable(
    [
      { title: 'Part' },
      { title: 'Rating' },
      { title: 'Here', ...right },
      { title: 'Limit', ...right },
      { title: 'Used', ...right },
      { title: 'Held against' },
    ],
    rows,
  );
  return [rest > 0 ? `${table}\n${counted}` : table];
}

function solveText({ solve }: ConditionPrediction, condition: Condition | undefined): readonly string[] {
  if (condition?.supply === 'unplugged') return [];
  const { converged, iterations, residualAmps } = solve;
  if (!converged) return [`No operating point was found in ${iterations} iterations.`];
  const worst = residualAmps < 1e-12 ? 'below 1 pA' : formatQuantity(residualAmps, 'A', 2);
  const times = `${iterations} iteration${iterations === 1 ? '' : 's'}`;
  return [`Operating point found in ${times}; currents balance to ${worst}.`];
}
