import { scaleLinear } from 'd3-scale';
import { bandDomain } from './band-scene.ts';
import type { BandFigures } from './band-scene.ts';
import { line, polygon, rectangle } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

const frame = { width: 120, height: 22, axis: 14, edge: 4 };

/**
 * The band drawing without figures, for the row of a table: the same blocks, tick, stops and pointer.
 *
 * A limit on one side only is drawn as a block that runs to the edge.
 *
 * @param figures The reading's band and stop limits, SI units.
 * @param measured What was measured; null draws no pointer.
 * @returns null where there is nothing to draw a band from.
 */
export function smallBandScene(figures: BandFigures, measured: number | null): Scene | null {
  const { low, high, nominal } = figures;
  if (low === null && high === null) return null;
  const known = { ...figures, low: low ?? Math.min(0, high ?? 0), high: high ?? (low ?? 0) * 2 };
  const left = frame.edge;
  const right = frame.width - frame.edge;
  const domain = bandDomain(known, measured);
  const scale = scaleLinear().domain(domain).range([left, right]).clamp(true);
  const at = (value: number | null, open: number): number => (value === null ? open : scale(value));
  const items: SceneItem[] = [line(left, frame.axis, right, frame.axis, 'faint', 'hair')];
  items.push(block(at(figures.lowest ?? low, left), at(figures.highest ?? high, right), 8, 'wash'));
  items.push(block(at(low, left), at(high, right), 8, 'faint'));
  if (nominal !== null) items.push(upright(scale(nominal), 6, 'ink'));
  for (const stop of [figures.stopBelow, figures.stopAbove]) {
    const [from, to] = domain;
    if (stop !== null && stop >= from && stop <= to) items.push(upright(scale(stop), 7, 'danger'));
  }
  if (measured !== null) items.push(pointer(scale(measured)));
  return { width: frame.width, height: frame.height, title: 'Band and reading', items };
}

function block(from: number, to: number, height: number, ink: 'wash' | 'faint'): SceneItem {
  return rectangle(from, frame.axis - height / 2, Math.max(to - from, 0.5), height, ink);
}

function upright(x: number, half: number, ink: 'ink' | 'danger'): SceneItem {
  return line(x, frame.axis - half, x, frame.axis + half, ink, ink === 'ink' ? 'line' : 'bold');
}

function pointer(x: number): SceneItem {
  return polygon(
    [
      [x - 4, 1],
      [x + 4, 1],
      [x, frame.axis - 4],
    ],
    'ink',
  );
}
