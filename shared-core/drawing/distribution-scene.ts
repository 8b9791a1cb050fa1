import { scaleLinear } from 'd3-scale';
import { label, line, rectangle } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

/** How the readings of many builds lie about their band. */
export interface Distribution {
  /** Edges of the counts, in half-bands, rising. */
  readonly edges: readonly number[];
  /** Builds between each two edges; the ends hold all that lies further out. */
  readonly counts: readonly number[];
  /** The fleet's mean with its uncertainty, in half-bands; null where there is none. */
  readonly mean: { readonly at: number; readonly uncertainty: number } | null;
}

const frame = { width: 150, height: 34, left: 3, right: 3, top: 3, bottom: 9 };

/**
 * Bars over the predicted band: the band from −1 to +1 as a block behind, its middle as a hairline, the fleet's mean
 * with its uncertainty as a mark below.
 *
 * What lies beyond the frame stands in the last bars, which are drawn in the colour of what is out of band.
 */
export function distributionScene({ edges, counts, mean }: Distribution): Scene {
  const [first, last] = [edges[0] ?? -1, edges.at(-1) ?? 1];
  const floor = frame.height - frame.bottom;
  const x = scaleLinear()
    .domain([first, last])
    .range([frame.left, frame.width - frame.right])
    .clamp(true);
  const most = Math.max(1, ...counts);
  const total = counts.reduce((sum, count) => sum + count, 0);
  const items: SceneItem[] = [
    rectangle(x(-1), frame.top, x(1) - x(-1), floor - frame.top, 'wash'),
    line(x(0), frame.top, x(0), floor, 'faint', 'hair'),
  ];
  counts.forEach((count, index) => {
    if (count === 0) return;
    const [from, to] = [x(edges[index] ?? first), x(edges[index + 1] ?? last)];
    const height = Math.max(0.8, ((floor - frame.top) * count) / most);
    const isEnd = index === 0 || index === counts.length - 1;
    items.push(rectangle(from + 0.3, floor - height, to - from - 0.6, height, isEnd ? 'danger' : 'ink'));
  });
  items.push(line(frame.left, floor, frame.width - frame.right, floor, 'ink', 'hair'));
  if (mean) items.push(...meanMark(mean, x, floor + 4));
  if (total === 0) items.push(label(frame.width / 2, floor - 6, 'no figures', 7));
  const inside = counts.reduce(
    (sum, count, index) => sum + ((edges[index] ?? 0) >= -1 && (edges[index + 1] ?? 0) <= 1 ? count : 0),
    0,
  );
  const title = `Distribution of ${total} readings: ${inside} inside the band`;
  return { width: frame.width, height: frame.height, title, items };
}

function meanMark(
  { at, uncertainty }: { readonly at: number; readonly uncertainty: number },
  x: (value: number) => number,
  y: number,
): readonly SceneItem[] {
  return [
    line(x(at - uncertainty), y, x(at + uncertainty), y, 'ink', 'line'),
    line(x(at), y - 2.5, x(at), y + 2.5, 'ink', 'bold'),
  ];
}
