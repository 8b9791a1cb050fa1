import { assertNever } from '../../problem/assert-never.ts';
import { wrightOmega } from '../../numerics/wright-omega.ts';

/** Thermal voltage kT/q at 27 °C (300.15 K), in volts (V): CODATA 2014, the temperature circuits are quoted at. */
export const thermalVolts = 0.025864917;

/** Smallest series resistance taken in front of a junction, in ohms (Ω): keeps its closed form finite. */
const leastOhms = 1e-4;

/** Below these, in volts (V) and A/V^1.5, a phase is as good as absent: the mains off, a cold cathode. */
const leastEmfVolts = 1e-6;
const leastPerveance = 1e-12;

/** How one rectifier conducts. */
export type RectifierLaw =
  /** No drop at all: for closed forms only. */
  | { readonly kind: 'ideal' }
  /** Shockley: i = IS·(exp(v/(N·kT/q)) − 1), with a bulk resistance in series. */
  | {
      readonly kind: 'semiconductor';
      readonly saturationAmps: number;
      readonly emission: number;
      readonly bulkOhms: number;
    }
  /** Child–Langmuir: i = G·v^1.5, G in A/V^1.5. */
  | { readonly kind: 'valve'; readonly perveance: number };

/** Rectifiers that behave alike. */
export function isSameLaw(one: RectifierLaw, other: RectifierLaw): boolean {
  if (one.kind === 'valve' && other.kind === 'valve') return one.perveance === other.perveance;
  if (one.kind === 'semiconductor' && other.kind === 'semiconductor') {
    return (
      one.saturationAmps === other.saturationAmps &&
      one.emission === other.emission &&
      one.bulkOhms === other.bulkOhms
    );
  }
  return one.kind === other.kind;
}

/** One path of the current through the winding, the rectifiers and the reservoir. */
export interface SupplyPhase {
  /** Peak of the open-circuit EMF, in volts (V). */
  readonly emfVolts: number;
  /** Everything in series but the rectifier: copper, reflected primary, surge resistors, in ohms (Ω). */
  readonly ohms: number;
  readonly law: RectifierLaw;
  /** Equal rectifiers in series: 2 in a bridge. */
  readonly junctions: number;
  /** Conducts on the negative half of the winding's cycle. */
  readonly isOpposite: boolean;
}

/** Laws as numbers, the way a device's flat parameter list holds them. */
export const lawNumbers = { none: -1, ideal: 0, semiconductor: 1, valve: 2 } as const;

/**
 * A phase reduced to four numbers: junctions in series count as one, bulk resistance joins the rest.
 */
export interface PhaseCurve {
  law: number;
  emfVolts: number;
  ohms: number;
  /** Valve: G of the whole path, in A/V^1.5. Semiconductor: junctions·N·kT/q, in volts (V). */
  scale: number;
  /** Semiconductor: IS, in amperes (A). */
  saturationAmps: number;
}

/** A phase that never conducts. */
export function emptyCurve(): PhaseCurve {
  return { law: lawNumbers.none, emfVolts: 0, ohms: 1, scale: 1, saturationAmps: 0 };
}

/** Reduces a phase for the quadrature and the shooting. */
export function reducePhase(phase: SupplyPhase): PhaseCurve {
  const { emfVolts, ohms, law, junctions } = phase;
  const curve = emptyCurve();
  switch (law.kind) {
    case 'ideal':
      fillCurve(curve, lawNumbers.ideal, emfVolts, ohms, 0, 1, 0, 0, junctions);
      break;
    case 'semiconductor':
      fillCurve(
        curve,
        lawNumbers.semiconductor,
        emfVolts,
        ohms,
        law.saturationAmps,
        law.emission,
        law.bulkOhms,
        0,
        junctions,
      );
      break;
    case 'valve':
      fillCurve(curve, lawNumbers.valve, emfVolts, ohms, 0, 1, 0, law.perveance, junctions);
      break;
    default:
      assertNever(law);
  }
  return curve;
}

/** The same from flat numbers, without allocating. */
export function fillCurve(
  curve: PhaseCurve,
  law: number,
  emfVolts: number,
  ohms: number,
  saturationAmps: number,
  emission: number,
  bulkOhms: number,
  perveance: number,
  junctions: number,
): void {
  curve.law = emfVolts > leastEmfVolts ? law : lawNumbers.none;
  curve.emfVolts = emfVolts;
  curve.ohms = Math.max(leastOhms, ohms);
  curve.saturationAmps = 0;
  if (law === lawNumbers.semiconductor) {
    curve.ohms = Math.max(leastOhms, ohms + junctions * bulkOhms);
    curve.scale = junctions * emission * thermalVolts;
    curve.saturationAmps = saturationAmps;
  } else if (law === lawNumbers.valve) {
    if (!(perveance > leastPerveance)) curve.law = lawNumbers.none;
    curve.scale = junctions === 1 ? perveance : perveance / (junctions * Math.sqrt(junctions));
  }
}

/**
 * Largest root of w² + c·w³ = x for x > 0: the square root of a valve's drop behind a resistance.
 *
 * @param volts x, EMF minus reservoir, in volts (V).
 * @param stiffness c = R·G, in V^−0.5.
 */
export function valveRoot(volts: number, stiffness: number): number {
  let root = Math.sqrt(volts);
  if (stiffness * root > 1) root = Math.min(root, Math.cbrt(volts / stiffness));
  // Convex and started above the root: Newton descends without overshoot.
  for (let round = 0; round < 30; round++) {
    const step = (root * root * (1 + stiffness * root) - volts) / (root * (2 + 3 * stiffness * root));
    root -= step;
    if (Math.abs(step) <= 1e-15 * root) break;
  }
  return root;
}

/** ln ω's argument of a junction whose path has `volts` across it. */
export function junctionArgument(curve: PhaseCurve, volts: number): number {
  const bend = curve.ohms * curve.saturationAmps;
  return (volts + bend) / curve.scale + Math.log(bend / curve.scale);
}

/** Voltage at which a phase begins to conduct: a junction's bend, where R·i equals N·kT/q; in volts (V). */
export function kneeVolts(curve: PhaseCurve): number {
  return curve.law === lawNumbers.semiconductor ? curve.scale * (1 - junctionArgument(curve, 0)) : 0;
}

/**
 * Current of a phase at one instant.
 *
 * @param volts EMF minus reservoir voltage, in volts (V).
 * @param out Amperes (A) and, after it, siemens (S) di/dv.
 */
export function phaseCurrent(curve: PhaseCurve, volts: number, out: Float64Array): void {
  out[0] = 0;
  out[1] = 0;
  if (curve.law === lawNumbers.semiconductor) {
    const omega = wrightOmega(junctionArgument(curve, volts));
    out[0] = (curve.scale * omega) / curve.ohms - curve.saturationAmps;
    out[1] = omega / ((1 + omega) * curve.ohms);
  } else if (volts > 0 && curve.law === lawNumbers.valve) {
    const stiffness = curve.ohms * curve.scale;
    const root = valveRoot(volts, stiffness);
    out[0] = curve.scale * root * root * root;
    out[1] = (3 * curve.scale * root) / (2 + 3 * stiffness * root);
  } else if (volts > 0 && curve.law === lawNumbers.ideal) {
    out[0] = volts / curve.ohms;
    out[1] = 1 / curve.ohms;
  }
}
