import type { MainsTransformerPart, TransformerWinding } from '../kit/kit.ts';

/**
 * Shares of the rated voltage that are lost in copper when the kit gives no resistances: common
 * practice for transformers of 50–150 VA, no source.
 */
const assumedPrimaryLoss = 0.03;
const assumedSecondaryLoss = 0.04;

/** A mains transformer as turns ratios and copper resistances. */
export interface ReducedTransformer {
  readonly primaryOhms: number;
  readonly windings: readonly ReducedWinding[];
}

export interface ReducedWinding {
  readonly name: string;
  readonly centreTapped: boolean;
  /** Open-circuit volts of one half (or the whole) for each volt of the primary. */
  readonly ratio: number;
  /** Copper resistance of each half (or the whole), in ohms (Ω). */
  readonly ohms: readonly number[];
}

/**
 * Computes the open-circuit ratios back from the rated voltages.
 *
 * The rated voltages hold with every winding loaded at its own current by a resistor (across the whole
 * winding) and the nominal primary voltage V. With P the power in the secondary circuits, copper
 * included, the voltage E behind the primary's resistance R obeys E = V − R·P/E; each ratio then is
 * (rated volts + copper drop) / E. Magnetising current and leakage are left out: below 1 % for the
 * sizes at hand (common practice, no source).
 */
export function reduceTransformer(part: MainsTransformerPart): ReducedTransformer {
  const windings = part.windings.map((winding) => ({ winding, ohms: windingOhms(winding) }));
  const apparent = windings.reduce(
    (sum, { winding }) => sum + halves(winding) * winding.volts * winding.amps,
    0,
  );
  const primaryOhms =
    part.primary.dcrOhms ?? (apparent > 0 ? (assumedPrimaryLoss * part.primary.volts ** 2) / apparent : 1);
  const watts = windings.reduce(
    (sum, { winding, ohms }) =>
      sum + ohms.reduce((half, each) => half + winding.amps * (winding.volts + each * winding.amps), 0),
    0,
  );
  const volts = part.primary.volts;
  const behind = (volts + Math.sqrt(Math.max(0, volts ** 2 - 4 * primaryOhms * watts))) / 2;
  return {
    primaryOhms,
    windings: windings.map(({ winding, ohms }) => {
      const drop = (winding.amps * ohms.reduce((sum, each) => sum + each, 0)) / ohms.length;
      const ratio = (winding.volts + drop) / behind;
      return { name: winding.name, centreTapped: winding.centreTapped, ratio, ohms };
    }),
  };
}

function halves(winding: TransformerWinding): number {
  return winding.centreTapped ? 2 : 1;
}

function windingOhms(winding: TransformerWinding): readonly number[] {
  const given = winding.dcrOhms;
  const count = halves(winding);
  if (given === null || given.length === 0) {
    const each = winding.amps > 0 ? (assumedSecondaryLoss * winding.volts) / winding.amps : 1;
    return Array.from({ length: count }, () => each);
  }
  // One figure for a centre-tapped winding is the whole of it, end to end.
  if (count === 2 && given.length === 1) return [(given[0] ?? 0) / 2, (given[0] ?? 0) / 2];
  return given.slice(0, count);
}
