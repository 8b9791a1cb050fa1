import type { CharacteristicPoint, SectionDevice } from './valve-type.ts';

/** Why points give no model. `point` counts from 0; null where it is all of them. */
export interface FitProblem {
  readonly kind: 'too-few' | 'bad-point';
  readonly point: number | null;
  readonly message: string;
  readonly hint: string;
}

/** Fewest points, and fewest published figures in them, from which a law can be drawn. */
const fewest: Readonly<Record<SectionDevice, { readonly points: number; readonly figures: number }>> = {
  triode: { points: 2, figures: 4 },
  pentode: { points: 2, figures: 5 },
  'rectifier-valve': { points: 1, figures: 1 },
  'gas-stabiliser': { points: 1, figures: 1 },
};

/** Slope for each ampere of a cathode at 1000 K, q/kT: no valve has more, in 1/V. */
const steepestSlope = 11.6;

/** Voltages this near are the same voltage, relative. */
const sameVolts = 1e-3;

/** Published μ, slope and anode resistance belong together, μ = gm·ra, within this. */
const productLimit = 0.3;

/** What is wrong with the points themselves, before any fit; null where nothing is. */
export function pointProblem(
  device: SectionDevice,
  points: readonly CharacteristicPoint[],
): FitProblem | null {
  for (const [index, point] of points.entries()) {
    const message = ownProblem(device, point) ?? orderProblem(points, index);
    if (message !== null) {
      const hint = 'Compare it with the data sheet: a sign, a factor of ten, or a figure of the next row.';
      return { kind: 'bad-point', point: index, message: `Point ${index + 1}: ${message}`, hint };
    }
  }
  const need = fewest[device];
  const figures = points.reduce((sum, point) => sum + figuresIn(device, point), 0);
  const hasScreen = device !== 'pentode' || points.some(({ screenAmps }) => screenAmps !== undefined);
  if (points.length >= need.points && figures >= need.figures && hasScreen) return null;
  const screen = hasScreen ? '' : ', one screen current among them';
  return {
    kind: 'too-few',
    point: null,
    message: `${points.length} points with ${figures} figures are too few to fit a ${device}`,
    hint: `Give at least ${need.points} points with ${need.figures} figures (ia, ig2, gm, mu, ra)${screen}.`,
  };
}

function figuresIn(device: SectionDevice, point: CharacteristicPoint): number {
  const always = [point.anodeAmps, point.screenAmps, point.transconductance];
  const ofTriodes = device === 'triode' ? [point.mu, point.anodeOhms] : [];
  return [...always, ...ofTriodes].filter((figure) => figure !== undefined).length;
}

function ownProblem(device: SectionDevice, point: CharacteristicPoint): string | null {
  const { gridVolts, screenVolts, anodeAmps, transconductance, mu, anodeOhms } = point;
  if (device === 'rectifier-valve') return null;
  if (gridVolts > 0) return `the grid is positive (${gridVolts} V), where no model holds`;
  if (device === 'pentode' && screenVolts === undefined) return 'a pentode needs its screen voltage';
  if (transconductance === undefined) return null;
  if (transconductance > steepestSlope * anodeAmps)
    return 'no cathode gives so much slope at so little current';
  if (mu === undefined || anodeOhms === undefined) return null;
  const product = transconductance * anodeOhms;
  return Math.abs(product / mu - 1) > productLimit
    ? `slope times anode resistance is ${product.toPrecision(3)}, but mu is given as ${mu}`
    : null;
}

/** Current must fall as the grid goes down and rise as the anode goes up. */
function orderProblem(points: readonly CharacteristicPoint[], index: number): string | null {
  const point = points[index];
  if (!point) return null;
  const isSame = (one = 0, other = 0): boolean => Math.abs(one - other) <= sameVolts * Math.abs(one);
  for (const [at, before] of points.slice(0, index).entries()) {
    if (!isSame(before.screenVolts, point.screenVolts)) continue;
    const byGrid = isSame(before.anodeVolts, point.anodeVolts) ? point.gridVolts - before.gridVolts : 0;
    const byAnode = isSame(before.gridVolts, point.gridVolts) ? point.anodeVolts - before.anodeVolts : 0;
    const rise = byGrid || byAnode;
    if (rise !== 0 && (point.anodeAmps - before.anodeAmps) * rise < 0) {
      return `against point ${at + 1} its current goes the wrong way`;
    }
  }
  return null;
}
