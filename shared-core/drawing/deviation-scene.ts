import { scaleLinear } from 'd3-scale';
import type { Verdict } from '../bands/verdict.ts';
import { label, line, rectangle } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';
import { verdictShape } from './verdict-mark.ts';

/** One reading in the plot of deviations. */
export interface DeviationPoint {
  /** Its number in the table of readings. */
  readonly number: number;
  /** Readings of one condition stand together; a letter or a short word. */
  readonly group: string;
  /** Half-bands from nominal: ±1 is the edge of the band. */
  readonly deviation: number;
  /** The first number typed, where another one came after it. */
  readonly first: number | null;
  readonly verdict: Verdict;
}

const frame = { width: 640, height: 240, left: 64, right: 10, top: 14, bottom: 36 };
const shown = 2.6;

/**
 * Every reading's deviation, measured in its own band: one column for each, the band as a block.
 *
 * A healthy amplifier scatters inside the block; a wrong mains value or a biased prediction shows as a drift
 * of all of them. What lies further out than the frame is drawn at its edge with the figure beside it.
 */
export function deviationScene(points: readonly DeviationPoint[]): Scene {
  const right = frame.width - frame.right;
  const x = scaleLinear()
    .domain([-0.5, Math.max(points.length, 1) - 0.5])
    .range([frame.left, right]);
  const y = scaleLinear()
    .domain([-shown, shown])
    .range([frame.height - frame.bottom, frame.top])
    .clamp(true);
  const items: SceneItem[] = [rectangle(frame.left, y(1), right - frame.left, y(-1) - y(1), 'wash')];
  items.push(...sides(y, right), ...groups(points, x, y));
  points.forEach((point, index) => items.push(...drawPoint(point, x(index), y)));
  const outside = points.filter((point) => Math.abs(point.deviation) > 1).length;
  const title =
    `Deviation of ${points.length} readings, each measured in its own band: ` +
    `${points.length - outside} inside, ${outside} outside`;
  return { width: frame.width, height: frame.height, title, items };
}

type Scale = (value: number) => number;

function sides(y: Scale, right: number): readonly SceneItem[] {
  const names = [
    [1, 'high end'],
    [0, 'nominal'],
    [-1, 'low end'],
  ] as const;
  return names.flatMap(([at, name]) => [
    line(frame.left, y(at), right, y(at), at === 0 ? 'ink' : 'faint', 'hair'),
    label(frame.left - 6, y(at) + 4, name, 11, { anchor: 'end' }),
  ]);
}

/** Hairlines between conditions, and their short names underneath. */
function groups(points: readonly DeviationPoint[], x: Scale, y: Scale): readonly SceneItem[] {
  const starts = points.flatMap((point, index) =>
    index === 0 || point.group !== points[index - 1]?.group ? [index] : [],
  );
  return starts.flatMap((start, order) => {
    const end = starts[order + 1] ?? points.length;
    const edge: readonly SceneItem[] =
      start === 0 ? [] : [line(x(start - 0.5), y(shown), x(start - 0.5), y(-shown), 'faint', 'hair', true)];
    const middle = (x(start - 0.5) + x(end - 0.5)) / 2;
    return [...edge, label(middle, frame.height - 4, points[start]?.group ?? '', 12, { bold: true })];
  });
}

function drawPoint(point: DeviationPoint, x: number, y: Scale): readonly SceneItem[] {
  const at = y(point.deviation);
  const items: SceneItem[] = [];
  if (point.first !== null) {
    items.push(line(x, y(point.first), x, at, 'ink', 'hair', true));
    items.push(...verdictShape('still warming', x, y(point.first), 4));
    items.push(...beyond(point.first, x, y));
  }
  items.push(...verdictShape(point.verdict, x, at, 4.5), ...beyond(point.deviation, x, y));
  if (point.verdict !== 'as expected' || point.number % 5 === 0 || point.number === 1)
    items.push(label(x, frame.height - frame.bottom + 12, String(point.number), 8.5, { mono: true }));
  return items;
}

/** The figure of something that lies outside the frame, written towards the middle. */
function beyond(value: number, x: number, y: Scale): readonly SceneItem[] {
  if (Math.abs(value) <= shown) return [];
  const text = `${value < 0 ? '−' : '+'}${Math.abs(value) >= 10 ? Math.round(Math.abs(value)) : Math.abs(value).toFixed(1)}`;
  return [
    label(x + 7, y(value) + 4, text, 10, { anchor: x > frame.width - 60 ? 'end' : 'start', mono: true }),
  ];
}
