import { sectionFigures, type SectionVolts } from './section-law.ts';
import { amplificationError, hasAmplificationError, slopeError } from './slope-error.ts';
import type { ModelRegion, ValveSection, ValveType } from './valve-type.ts';

/** A relative standard deviation of one parameter of a section's device: sample `value · exp(sigma · z)`. */
export interface ParameterSpread {
  readonly parameter: string;
  readonly relativeSigma: number;
  readonly source: string;
}

/** Production limits are taken as two sigma to each side: common practice, no source. */
const sigmasBetweenLimits = 4;

/** Part of the current's variance that goes to the amplification factor: no source splits it, so half. */
const muShare = 0.5;

/** How the cathode current divides between anode and screen, one sigma: common practice, no source. */
const screenShareSigma = 0.1;

/** Step of the numerical sensitivity, relative: rounding and curvature are both below 1e-6 there. */
const sensitivityStep = 1e-4;

/** One sigma of the anode current at fixed voltages, as a ratio in logarithms. */
export function currentSigma(type: ValveType): number {
  return Math.log((1 + type.spread.high) / (1 + type.spread.low)) / sigmasBetweenLimits;
}

/**
 * Production spread of a type, as parameters to sample; the two sections of a double valve are independent.
 *
 * The published limits are of the anode current at fixed voltages. They are given to `emission` (all currents
 * alike) and `mu` (the grid's and anode's balance), so that together they give those limits at the type's
 * reference point. Those of a stabiliser are of its voltage. A cathode resistor shrinks them in the circuit by itself. The model's own error is another
 * thing: see `modelError`.
 */
export function spreadParameters(type: ValveType): readonly ParameterSpread[] {
  const sigma = currentSigma(type);
  const source = type.spread.source;
  const section = type.sections[0];
  const point = type.characteristics[0];
  if (section === undefined) return [];
  if (section.device === 'rectifier-valve' || point === undefined) {
    return [{ parameter: 'emission', relativeSigma: sigma, source }];
  }
  if (section.device === 'gas-stabiliser') {
    return [{ parameter: 'regulatedVolts', relativeSigma: sigma, source }];
  }
  const sensitivity = Math.abs(muSensitivity(section, point));
  const list = [
    { parameter: 'emission', relativeSigma: sigma * Math.sqrt(1 - muShare), source },
    { parameter: 'mu', relativeSigma: (sigma * Math.sqrt(muShare)) / sensitivity, source },
  ];
  if (section.device !== 'pentode') return list;
  return [
    ...list,
    { parameter: 'kg2', relativeSigma: screenShareSigma, source: 'common practice, no source' },
  ];
}

/** Valves sold as a matched set agree in anode current within ±5 %, two sigma: common practice, no source. */
const matchedSigma = 0.025;

/**
 * How the spread of a type divides in a matched set: what all its valves have in common, and what each has of its
 * own. Factors of every sigma; their squares add up to one.
 */
export function matchedShares(type: ValveType): { readonly common: number; readonly own: number } {
  const own = Math.min(1, matchedSigma / currentSigma(type));
  return { common: Math.sqrt(1 - own * own), own };
}

/**
 * The model's own error at an operating point, as quantities to sample.
 *
 * `current`, `slope` and `amplification` are what the model is off by at that very point, each by itself (see
 * `offsetSection`); the others are parameters. The same for every valve of the type: sample it once for all
 * sections, not once for each.
 *
 * @returns Null where the model is not verified: the reading is *not predicted*.
 */
export function modelError(
  type: ValveType,
  volts: SectionVolts,
  anodeAmps: number,
): readonly ParameterSpread[] | null {
  const region = type.modelRegions.find((candidate) => holds(candidate, volts, anodeAmps));
  if (region === undefined) return null;
  return regionErrors(type, region);
}

/** The model's error where it is not verified: as wide as one is of the current, and said to be so. */
export function unverifiedError(type: ValveType): readonly ParameterSpread[] {
  const everywhere = [-Infinity, Infinity] as const;
  const region = { what: 'not verified', anodeVolts: everywhere, anodeAmps: everywhere };
  return regionErrors(type, {
    ...region,
    relativeSigma: unverifiedSigma,
    source: 'common practice, no source',
  });
}

/** One sigma of the anode current where the model is not verified: wide, and said so. */
const unverifiedSigma = 0.15;

function regionErrors(type: ValveType, region: ModelRegion): readonly ParameterSpread[] {
  const { relativeSigma, screenRelativeSigma, source } = region;
  if (type.stabiliser) return [{ parameter: 'slopeOhms', relativeSigma, source }];
  if (type.rectifier !== null) return [{ parameter: 'perveance', relativeSigma, source }];
  const hasMu = type.sections.some(hasAmplificationError);
  return [
    { parameter: 'current', relativeSigma, source },
    { parameter: 'slope', ...slopeError(region) },
    ...(hasMu ? [{ parameter: 'amplification', ...amplificationError(region) }] : []),
    ...(screenRelativeSigma === undefined
      ? []
      : [{ parameter: 'kg2', relativeSigma: screenRelativeSigma, source }]),
  ];
}

/** Relative change of the anode current for a relative change of MU. */
function muSensitivity(section: ValveSection, point: SectionVolts): number {
  const mu = section.parameters['mu'] ?? 1;
  const above = sectionFigures(section, point, { mu: mu * (1 + sensitivityStep) }).anodeAmps;
  const below = sectionFigures(section, point, { mu: mu * (1 - sensitivityStep) }).anodeAmps;
  return Math.log(above / below) / (2 * sensitivityStep);
}

function holds(region: ModelRegion, volts: SectionVolts, anodeAmps: number): boolean {
  const inside = (value: number | undefined, range: readonly [number, number] | undefined): boolean =>
    range === undefined || value === undefined || (value >= range[0] && value <= range[1]);
  return (
    inside(volts.anodeVolts, region.anodeVolts) &&
    inside(volts.screenVolts, region.screenVolts) &&
    inside(volts.gridVolts, region.gridVolts) &&
    inside(anodeAmps, region.anodeAmps)
  );
}
