import type { AdjusterCurve } from './adjuster-curve.ts';

/** How far an adjuster is from its target, and what to do about it. */
export interface AdjustHint {
  /** Within what the kit allows. */
  readonly isThere: boolean;
  /** Target less reading, in volts (V). */
  readonly toGo: number;
  /** Null on the target, and where no curve was computed. */
  readonly direction: 'clockwise' | 'anticlockwise' | null;
  /** Part of the whole travel that is left to turn, 0 to 1; null where it is not known. */
  readonly share: number | null;
  /** What a twentieth of the travel moves, at the present position, in volts (V); null where it is not known. */
  readonly perTwentieth: number | null;
  /** The last turn went past the target. */
  readonly isOvershot: boolean;
  /** The last turn moved the reading away from the target, or not at all; null elsewhere. */
  readonly lastTurn: 'away' | 'nothing' | null;
  /**
   * `beyond`: the target is past what the end of the travel gives, by the computed curve; `near`: it is reached
   * in the last twentieth of the travel; null elsewhere.
   */
  readonly end: 'beyond' | 'near' | null;
  /** What the end of the travel in this direction gives, in volts (V); null where it is not known. */
  readonly endValue: number | null;
}

/** What counts as having moved: this part of the width that the kit allows. */
const movedShare = 0.25;
const twentieth = 0.05;

/**
 * What to do next at an adjuster.
 *
 * The present position is where the computed curve shows what the meter shows; direction and sensitivity are the
 * curve's there. A healthy amplifier's curve lies beside the computed one, so a hint is a first guess that
 * each further reading corrects.
 *
 * @param target In the reading's SI unit; `within` is a share of it.
 * @param values What was read at this step, in the order of the readings, the last one now; not empty.
 */
export function adjustHint(
  { target, within }: { readonly target: number; readonly within: number },
  curve: AdjusterCurve | null,
  values: readonly number[],
): AdjustHint {
  const value = values.at(-1) ?? target;
  const before = values.at(-2) ?? null;
  const width = Math.abs(target) * within;
  const toGo = target - value;
  const isThere = Math.abs(toGo) <= width;
  const history = isThere || before === null ? quiet : compare(before, value, target, width);
  const turn = curve === null || isThere ? null : turnTo(curve, value, target);
  return { isThere, toGo, ...history, ...(turn ?? unknown) };
}

const quiet = { isOvershot: false, lastTurn: null } as const;
const unknown = { direction: null, share: null, perTwentieth: null, end: null, endValue: null } as const;

function compare(
  before: number,
  value: number,
  target: number,
  width: number,
): Pick<AdjustHint, 'isOvershot' | 'lastTurn'> {
  const [was, is] = [target - before, target - value];
  // From the target itself nobody overshoots: the reading drifted, or another adjuster moved it.
  if (Math.abs(was) <= width) return quiet;
  if (Math.sign(was) !== Math.sign(is)) return { isOvershot: true, lastTurn: null };
  const nearer = Math.abs(was) - Math.abs(is);
  if (Math.abs(nearer) < movedShare * width) return { isOvershot: false, lastTurn: 'nothing' };
  return { isOvershot: false, lastTurn: nearer < 0 ? 'away' : null };
}

function turnTo(
  { points }: AdjusterCurve,
  value: number,
  target: number,
): Pick<AdjustHint, 'direction' | 'share' | 'perTwentieth' | 'end' | 'endValue'> | null {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || first.value === last.value) return null;
  const isRising = last.value > first.value;
  const isMore = target > value === isRising;
  const end = isMore ? last : first;
  const isBeyond = isMore === isRising ? target > end.value : target < end.value;
  const [from, to] = [positionOf(points, value), positionOf(points, target)];
  const left = Math.abs(end.position - to);
  return {
    direction: isMore ? 'clockwise' : 'anticlockwise',
    share: isBeyond ? null : Math.abs(to - from),
    perTwentieth: Math.abs(slopeAt(points, from)) * twentieth,
    end: isBeyond ? 'beyond' : left <= twentieth ? 'near' : null,
    endValue: end.value,
  };
}

type Points = AdjusterCurve['points'];

/** Where the curve shows a value; the nearer end for a value that it never shows. */
function positionOf(points: Points, value: number): number {
  for (let index = 1; index < points.length; index += 1) {
    const [one, other] = [points[index - 1], points[index]];
    if (one === undefined || other === undefined || one.value === other.value) continue;
    const part = (value - one.value) / (other.value - one.value);
    if (part >= 0 && part <= 1) return one.position + part * (other.position - one.position);
  }
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return 0;
  return Math.abs(value - first.value) < Math.abs(value - last.value) ? first.position : last.position;
}

/** Volts per whole travel, over the twentieth before and after. */
function slopeAt(points: Points, position: number): number {
  const near = points.filter((each) => Math.abs(each.position - position) <= twentieth + 1e-9);
  const [first, last] = [near[0], near.at(-1)];
  if (first === undefined || last === undefined || first.position === last.position) return 0;
  return (last.value - first.value) / (last.position - first.position);
}
