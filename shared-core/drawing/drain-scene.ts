import { scaleLinear, scaleLog } from 'd3-scale';
import type { StorePrediction } from '../prediction/prediction.ts';
import { circle, label, length, line } from './scene.ts';
import type { Scene, SceneItem, Weight } from './scene.ts';

/** A look at a store after the plug came out. */
export interface DrainLook {
  /** Since the plug came out, in seconds (s). */
  readonly seconds: number;
  /** In volts (V), sign ignored. */
  readonly volts: number;
}

const frame = { width: 640, height: 300, left: 56, right: 20, top: 20, bottom: 40 };
const lowestVolts = 1;

/**
 * The drain plot: logarithmic volts against time, the predicted curves, the safe line and the
 * measured points.
 *
 * @param store The store's predicted curves.
 * @param safeVolts The kit's safe voltage, in volts (V).
 * @param looks Measured points of this store.
 * @param nowSeconds Time since the plug came out, in seconds (s); null draws no clock line.
 */
export function drainScene(
  store: StorePrediction,
  safeVolts: number,
  looks: readonly DrainLook[],
  nowSeconds: number | null,
): Scene {
  const seconds = timeSpan(store, looks, nowSeconds);
  const x = scaleLinear()
    .domain([0, seconds])
    .range([frame.left, frame.width - frame.right]);
  const top = Math.max(store.volts, safeVolts * 2, ...looks.map((look) => look.volts)) * 1.15;
  const y = scaleLog()
    .domain([lowestVolts, top])
    .range([frame.height - frame.bottom, frame.top])
    .clamp(true);
  const items: SceneItem[] = [...axes(x, y, seconds, top)];
  items.push(line(x(0), y(safeVolts), x(seconds), y(safeVolts), 'safe', 'line', true));
  items.push(
    label(x(seconds) - 4, y(safeVolts) - 6, `safe below ${safeVolts} V`, 13, { anchor: 'end', ink: 'safe' }),
  );
  const curves = [
    ['slow', store.slow, 'bold'],
    ['likely', store.likely, 'line'],
    ['fast', store.fast, 'hair'],
  ] as const;
  for (const [name, curve, weight] of curves) items.push(...drawCurve(name, curve, weight, x, y, seconds));
  if (nowSeconds !== null)
    items.push(line(x(nowSeconds), frame.top, x(nowSeconds), frame.height - frame.bottom, 'faint', 'hair'));
  for (const look of looks)
    items.push(circle(x(look.seconds), y(Math.max(look.volts, lowestVolts)), 5, 'paper', 'ink', 'bold'));
  const title = `Voltage of ${store.part} after the plug came out: ${looks.length} measured points`;
  return { width: frame.width, height: frame.height, title, items };
}

type Scale = (value: number) => number;

function timeSpan(store: StorePrediction, looks: readonly DrainLook[], now: number | null): number {
  const known = store.slowSeconds ?? store.likelySeconds ?? 60;
  const measured = Math.max(0, ...looks.map((look) => look.seconds));
  return Math.max(known * 1.4, Math.min(measured * 1.1, 600), Math.min(now ?? 0, 600), 20);
}

function axes(x: Scale, y: Scale, seconds: number, top: number): SceneItem[] {
  const items: SceneItem[] = [];
  for (const volts of [1, 10, 100, 1000].filter((value) => value <= top)) {
    items.push(line(frame.left, y(volts), frame.width - frame.right, y(volts), 'wash', 'hair'));
    items.push(label(frame.left - 6, y(volts) + 5, `${volts} V`, 13, { anchor: 'end', mono: true }));
  }
  for (const time of scaleLinear().domain([0, seconds]).ticks(6)) {
    items.push(
      line(x(time), frame.height - frame.bottom, x(time), frame.height - frame.bottom + 5, 'ink', 'hair'),
    );
    items.push(label(x(time), frame.height - frame.bottom + 20, `${time} s`, 13, { mono: true }));
  }
  items.push(
    line(
      frame.left,
      frame.height - frame.bottom,
      frame.width - frame.right,
      frame.height - frame.bottom,
      'ink',
      'hair',
    ),
  );
  return items;
}

function drawCurve(
  name: string,
  curve: { readonly seconds: readonly number[]; readonly volts: readonly number[] },
  weight: Weight,
  x: Scale,
  y: Scale,
  seconds: number,
): SceneItem[] {
  const points = curve.seconds
    .map((time, index) => [time, curve.volts[index] ?? 0] as const)
    .filter(([time, volts]) => time <= seconds && volts >= lowestVolts);
  if (points.length < 2) return [];
  const d = points
    .map(([time, volts], index) => `${index === 0 ? 'M' : 'L'}${length(x(time))} ${length(y(volts))}`)
    .join('');
  const last = points.at(-1)?.[0] ?? 0;
  // The likely curve runs close under the slow one: its name goes to the other side, and further up.
  const isUnder = name === 'likely';
  const place = points.find(([time]) => time >= last * (isUnder ? 0.4 : 0.55)) ?? points[0];
  const name_ =
    place === undefined
      ? []
      : isUnder
        ? [label(x(place[0]) - 5, y(place[1]) + 14, name, 13, { anchor: 'end' })]
        : [label(x(place[0]) + 6, y(place[1]) - 6, name, 13, { anchor: 'start' })];
  return [{ kind: 'path', d, ink: 'ink', fill: null, weight, dashed: name === 'fast' }, ...name_];
}
