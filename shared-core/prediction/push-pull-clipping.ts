/** One side of a push-pull stage as its load line sees it. */
export interface PushPullSide {
  /** Anodes at rest to their cathodes, and grids, in volts (V): a grid reaches its cathode after `−gridVolts`. */
  readonly anodeVolts: number;
  readonly gridVolts: number;
  /** What the side draws at rest through its half of the primary, in amperes (A). */
  readonly restAmps: number;
  /** Copper of its half, in ohms (Ω). */
  readonly copperOhms: number;
  /** The side's current with its anodes at some volts and its grids moved by some volts, in amperes (A). */
  readonly ampsAt: (anodeVolts: number, gridMove: number) => number;
}

/** Peak figures at the onset. */
export interface PushPullOnset {
  /** Swing of each grid, in volts (V). */
  readonly gridVolts: number;
  /** Fundamental of the swing of one half of the primary behind its copper, in volts (V). */
  readonly halfVolts: number;
  readonly limitedBy: 'grid reaches its cathode' | 'anode reaches its knee';
}

const halvings = 50;

/**
 * A wave is flattened where the last twentieth of the grids' swing adds less than this share of what a twentieth
 * of it adds on average: common practice, no source.
 */
const leastSlopeShare = 0.5;
const lastPart = 0.05;

/**
 * Onset of clipping of a push-pull stage: the composite load line.
 *
 * Both sides work into one core: with x volts across each half the load takes x/(Raa/4) as the difference of the
 * two currents, Raa the load from anode to anode (B. J. Thompson, "Graphical determination of performance of
 * push-pull audio amplifiers", Proc. IRE 21 (1933) 591). The grids swing evenly and oppositely; the onset is
 * where the first of them reaches its cathode, the other side's current ended or not, or where the anode's knee
 * flattens the wave before that. Supply and bias are held.
 * Fundamental by five points (W. Espley, Proc. IRE 21 (1933) 1439), even harmonics cancelling.
 *
 * @param loadOhms From anode to anode, without the primary's copper, in ohms (Ω).
 * @returns Null where a grid stands at its cathode already.
 */
export function pushPullOnset(
  first: PushPullSide,
  second: PushPullSide,
  loadOhms: number,
): PushPullOnset | null {
  const most = Math.min(-first.gridVolts, -second.gridVolts);
  if (!(most > 0)) return null;
  const swing = (move: number): number => swingOf(first, second, move, loadOhms / 4);
  const isRound = (move: number): boolean =>
    swing(move) - swing((1 - lastPart) * move) >= leastSlopeShare * lastPart * swing(move);
  let [gridVolts, limit] = [most, most];
  if (!isRound(most)) {
    for (gridVolts = 0; limit - gridVolts > 1e-4 * most;) {
      const middle = (gridVolts + limit) / 2;
      if (isRound(middle)) gridVolts = middle;
      else limit = middle;
    }
  }
  const [full, middle, less, least] = [1, 0.5, -0.5, -1].map((share) => swing(share * gridVolts));
  return {
    gridVolts,
    halfVolts: Math.abs(full! + middle! - less! - least!) / 3,
    limitedBy: gridVolts === most ? 'grid reaches its cathode' : 'anode reaches its knee',
  };
}

/** Volts across the first half for a move of its grid, the second's moved the other way (V). */
function swingOf(first: PushPullSide, second: PushPullSide, move: number, compositeOhms: number): number {
  const reach = Math.max(first.anodeVolts, second.anodeVolts);
  // The load's current rises with the swing while what the sides give falls.
  return fallingRoot(
    (swing) => changeOf(first, -swing, move) - changeOf(second, swing, -move) - swing / compositeOhms,
    -reach,
    reach,
  );
}

/** By how much a side's current differs from rest with its half moved by some volts, its copper's drop included (A). */
function changeOf(side: PushPullSide, volts: number, move: number): number {
  const { anodeVolts, restAmps, copperOhms, ampsAt } = side;
  const top = (anodeVolts + Math.abs(volts)) / Math.max(copperOhms, 1);
  return fallingRoot(
    (change) => ampsAt(anodeVolts + volts - copperOhms * change, move) - restAmps - change,
    -restAmps,
    top,
  );
}

/** Where a falling function crosses zero. */
function fallingRoot(falling: (x: number) => number, low: number, high: number): number {
  let [from, to] = [low, high];
  for (let round = 0; round < halvings; round++) {
    const middle = (from + to) / 2;
    if (falling(middle) > 0) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
