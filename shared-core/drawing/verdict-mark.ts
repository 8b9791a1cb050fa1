import type { Verdict } from '../bands/verdict.ts';
import { circle, line, polygon } from './scene.ts';
import type { Scene, SceneItem } from './scene.ts';

/**
 * The shape that stands for a verdict, around a point: told apart without colour.
 *
 * Dot, diamond, triangle, octagon; a ring while warming, a dash where nothing is predicted.
 *
 * @param radius Half the height of the shape, in drawing units.
 */
export function verdictShape(verdict: Verdict, x: number, y: number, radius: number): readonly SceneItem[] {
  switch (verdict) {
    case 'as expected':
      return [circle(x, y, radius * 0.8, 'ink', null)];
    case 'borderline':
      return [polygon(corners(x, y, radius, 4, 0), 'ink')];
    case 'out of band':
      return [polygon(corners(x, y + radius * 0.2, radius * 1.1, 3, 0), 'paper', 'ink')];
    case 'stop':
      return [polygon(corners(x, y, radius * 1.1, 8, 22.5), 'danger')];
    case 'still warming':
      return [circle(x, y, radius * 0.7, null, 'ink', 'hair')];
    case 'not predicted':
      return [line(x - radius * 0.8, y, x + radius * 0.8, y, 'ink', 'line')];
  }
}

/** A verdict's shape alone, to stand beside its word. */
export function verdictMark(verdict: Verdict): Scene {
  return { width: 20, height: 20, title: verdict, items: verdictShape(verdict, 10, 10, 8) };
}

function corners(
  x: number,
  y: number,
  radius: number,
  count: number,
  turn: number,
): readonly (readonly [number, number])[] {
  return Array.from({ length: count }, (_, index) => {
    const angle = (Math.PI / 180) * (turn + (360 * index) / count);
    return [x + radius * Math.sin(angle), y - radius * Math.cos(angle)] as const;
  });
}
