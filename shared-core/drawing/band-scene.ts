import { scaleLinear } from 'd3-scale';
import type { ReadingPrediction } from '../prediction/prediction.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import { label, line, polygon, rectangle } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

/** What a band drawing needs of a prediction. */
export type BandFigures = Pick<
  ReadingPrediction,
  'unit' | 'nominal' | 'low' | 'high' | 'lowest' | 'highest' | 'stopAbove' | 'stopBelow'
>;

const wide = { width: 640, height: 96, axis: 52, text: 15 };

/**
 * The band of a reading: a line with the band as a block, the nominal value as a tick, stop limits
 * as end stops and the measured value as a pointer.
 *
 * @param figures The reading's prediction, SI units.
 * @param measured What the builder measured, in the reading's SI unit; null draws no pointer.
 */
export function bandScene(figures: BandFigures, measured: number | null): Scene | null {
  const { low, high, nominal, unit } = figures;
  if (low === null || high === null) return null;
  const scale = scaleLinear()
    .domain(bandDomain(figures, measured))
    .range([12, wide.width - 12]);
  const items: SceneItem[] = [line(12, wide.axis, wide.width - 12, wide.axis, 'faint', 'hair')];
  const outer = [figures.lowest ?? low, figures.highest ?? high] as const;
  items.push(block(scale, outer[0], outer[1], 8, 'wash'), block(scale, low, high, 16, 'faint'));
  items.push(...edge(scale, low, unit, 'end'), ...edge(scale, high, unit, 'start'));
  if (nominal !== null)
    items.push(line(scale(nominal), wide.axis - 11, scale(nominal), wide.axis + 11, 'ink', 'line'));
  for (const stop of [figures.stopBelow, figures.stopAbove]) {
    if (stop !== null && inside(scale.domain(), stop)) items.push(...stopMark(scale(stop)));
  }
  if (measured !== null) items.push(...pointer(scale(measured), formatQuantity(measured, unit)));
  return { width: wide.width, height: wide.height, title: bandTitle(figures, measured), items };
}

/** The stretch of the axis that shows band and reading with room at both ends. */
export function bandDomain(figures: BandFigures, measured: number | null): [number, number] {
  const low = figures.lowest ?? figures.low ?? 0;
  const high = figures.highest ?? figures.high ?? 0;
  const span = Math.max(high - low, Math.abs(high) * 1e-3, 1e-9);
  let from = low - span * 0.6;
  let to = high + span * 0.6;
  if (measured !== null) {
    from = Math.min(from, measured - span * 0.3);
    to = Math.max(to, measured + span * 0.3);
  }
  const { stopAbove, stopBelow } = figures;
  if (stopAbove !== null && stopAbove < high + span * 2) to = Math.max(to, stopAbove + span * 0.2);
  if (stopBelow !== null && stopBelow > low - span * 2) from = Math.min(from, stopBelow - span * 0.2);
  return [from, to];
}

type Scale = (value: number) => number;

function inside([from, to]: readonly number[], value: number): boolean {
  return value >= (from ?? 0) && value <= (to ?? 0);
}

function block(scale: Scale, from: number, to: number, height: number, ink: 'wash' | 'faint'): SceneItem {
  return rectangle(scale(from), wide.axis - height / 2, Math.max(scale(to) - scale(from), 1), height, ink);
}

function edge(scale: Scale, value: number, unit: Unit, anchor: 'start' | 'end'): SceneItem[] {
  const x = scale(value);
  return [
    line(x, wide.axis - 10, x, wide.axis + 10, 'ink', 'line'),
    label(x, wide.axis + 32, formatQuantity(value, unit), wide.text, { anchor, mono: true }),
  ];
}

function stopMark(x: number): SceneItem[] {
  return [line(x, wide.axis - 16, x, wide.axis + 16, 'danger', 'bold')];
}

function pointer(x: number, text: string): SceneItem[] {
  const top = wide.axis - 24;
  const held = Math.min(Math.max(x, 40), wide.width - 40);
  return [
    polygon(
      [
        [x - 8, top],
        [x + 8, top],
        [x, wide.axis - 9],
      ],
      'ink',
    ),
    label(held, top - 7, text, wide.text, { mono: true, bold: true }),
  ];
}

function bandTitle(figures: BandFigures, measured: number | null): string {
  const { unit } = figures;
  const band = `Band ${formatQuantity(figures.low ?? 0, unit)} to ${formatQuantity(figures.high ?? 0, unit)}`;
  return measured === null ? band : `${band}; measured ${formatQuantity(measured, unit)}`;
}
