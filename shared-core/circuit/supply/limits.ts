/** What a rectifier's data sheet allows; figures that are not stated are left out. */
export interface RectifierLimits {
  /** Peak inverse voltage, in volts (V). */
  readonly inverseVolts?: number;
  /** Repetitive peak current of one anode, in amperes (A). */
  readonly peakAmps?: number;
  /** Mean current of all anodes together, in amperes (A). */
  readonly meanAmps?: number;
  /** Largest reservoir, in farads (F). */
  readonly reservoirFarads?: number;
  /** Least source resistance of each anode by the EMF of its piece, in ohms (Ω) at volts rms (V), rising. */
  readonly sourceOhmsAt?: readonly { readonly emfVolts: number; readonly ohms: number }[];
}

/** What a supply asks of its rectifier. */
export interface RectifierDuty {
  readonly inverseVolts: number;
  readonly peakAmps: number;
  readonly meanAmps: number;
  readonly reservoirFarads: number;
  /** EMF in volts rms (V) and source resistance in ohms (Ω), the weaker phase's. */
  readonly emfVolts: number;
  readonly sourceOhms: number;
}

/** One limit with how much of it is used. */
export interface LimitFigure {
  readonly what: 'peak inverse voltage' | 'peak current' | 'mean current' | 'reservoir' | 'source resistance';
  readonly unit: 'V' | 'A' | 'F' | 'Ω';
  readonly value: number;
  readonly limit: number;
  /** Over 100 is past the limit; for the source resistance limit/value, as it must not be less. */
  readonly percent: number;
}

/** Compares a supply with the limits of its rectifier. */
export function compareLimits(duty: RectifierDuty, limits: RectifierLimits): readonly LimitFigure[] {
  const figures: LimitFigure[] = [];
  const upper = (
    what: LimitFigure['what'],
    unit: LimitFigure['unit'],
    value: number,
    limit?: number,
  ): void => {
    if (limit !== undefined) figures.push({ what, unit, value, limit, percent: (100 * value) / limit });
  };
  upper('peak inverse voltage', 'V', duty.inverseVolts, limits.inverseVolts);
  upper('peak current', 'A', duty.peakAmps, limits.peakAmps);
  upper('mean current', 'A', duty.meanAmps, limits.meanAmps);
  upper('reservoir', 'F', duty.reservoirFarads, limits.reservoirFarads);
  const least = leastSourceOhms(duty.emfVolts, limits);
  if (least !== null) {
    const percent = duty.sourceOhms > 0 ? (100 * least) / duty.sourceOhms : 1e6;
    figures.push({ what: 'source resistance', unit: 'Ω', value: duty.sourceOhms, limit: least, percent });
  }
  return figures;
}

/**
 * Least source resistance at an EMF, in ohms (Ω): straight lines between the stated points, the nearest
 * point's figure below the first, the last line prolonged above the last. Null where nothing is stated.
 */
export function leastSourceOhms(emfVolts: number, { sourceOhmsAt }: RectifierLimits): number | null {
  const points = sourceOhmsAt ?? [];
  const first = points[0];
  if (!first) return null;
  if (points.length === 1 || emfVolts <= first.emfVolts) return first.ohms;
  let index = 1;
  while (index < points.length - 1 && emfVolts > points[index]!.emfVolts) index++;
  const [from, to] = [points[index - 1]!, points[index]!];
  const slope = (to.ohms - from.ohms) / (to.emfVolts - from.emfVolts);
  return to.ohms + slope * (emfVolts - to.emfVolts);
}
