import { clampScreen } from '../devices/valve-laws.ts';
import type { SectionVolts } from './section-law.ts';
import type { SectionDevice } from './valve-type.ts';

/** What a model is off by at one point, as factors: 1 is as published. */
export interface ModelOffset {
  /** Of the anode current, slope and amplification unchanged. */
  readonly current: number;
  /** Of the slope (A/V of the grid), current and amplification unchanged. */
  readonly slope: number;
  /** Of the amplification factor, current and slope unchanged; triodes only. */
  readonly amplification: number;
}

type Parameters = Readonly<Record<string, number>>;

/** Parameters that an offset changes, in the order in which they are written. */
export const offsetParameters = {
  triode: ['mu', 'vct', 'kg1'],
  pentode: ['mu', 'kg1', 'kg2'],
} as const;

/** A section's model made ready for being off in many ways. */
export type OffsetWriter = (offset: ModelOffset, out: Float64Array) => void;

/** Below cutoff gm / Ia hardly changes with the grid; it is taken to change by at least this for each unit of x. */
const leastFall = 0.05;
/** Newton steps to the point of the law that has the wanted gm / Ia: three end below 1e-8 for 10 %. */
const newtonSteps = 3;
/** Below this nothing flows (exp(x) of the full current): no slope there can be off, as without anode or screen voltage. */
const deadPoint = -200;
/** x is not taken farther down than this, or half of it: below cutoff there is no point with more gm / Ia. */
const longestWay = 3;

/**
 * The parameters of a section whose model is off at one point in just the ways stated.
 *
 * Koren's law (see `triode` and `pentode`) is I = 2·E1^EX / KG1 with E1 = (V/KP)·softplus(x). At one point gm / Ia is
 * EX·KP·h(x)/√(KVB + Va²), with h = logistic / softplus. The slope error moves x until h has the wanted value (of a
 * triode by a shift of the grid, VCT; of a pentode by MU, which at a steady screen is the same), and KG1 and
 * KG2 then restore the currents. An amplification error changes MU and shifts the grid so that x stays.
 *
 * @param pivot Electrode voltages to the cathode at which this holds (V).
 */
export function offsetSection(
  device: keyof typeof offsetParameters,
  parameters: Parameters,
  pivot: SectionVolts,
  offset: ModelOffset,
): Parameters {
  const names = offsetParameters[device];
  const out = new Float64Array(names.length);
  openOffset(device, parameters, pivot)(offset, out);
  return { ...parameters, ...Object.fromEntries(names.map((name, index) => [name, out[index] ?? 0])) };
}

/** The same for many offsets of one section, without allocation: writes `offsetParameters` into `out`. */
export function openOffset(
  device: keyof typeof offsetParameters,
  parameters: Parameters,
  pivot: SectionVolts,
): OffsetWriter {
  const value = (name: string): number => parameters[name] ?? 0;
  const [mu, ex, kp, vct, kg1, kg2] = ['mu', 'ex', 'kp', 'vct', 'kg1', 'kg2'].map(value) as Six;
  const isTriode = device === 'triode';
  const across = isTriode
    ? Math.sqrt(value('kvb') + pivot.anodeVolts ** 2)
    : clampScreen(pivot.screenVolts ?? 0);
  const before = kp * (1 / mu + ((pivot.gridVolts ?? 0) + vct) / across);
  if (before < deadPoint) {
    return ({ current }, out) => out.set(isTriode ? [mu, vct, kg1 / current] : [mu, kg1 / current, kg2]);
  }
  const soft = softplusOf(before, Math.exp(-Math.abs(before)));
  const bend = bendOf(before);
  return ({ current, slope, amplification }, out) => {
    const after = slope === current ? before : pointOf(before, bend + Math.log(slope / current));
    const lift = (softplusOf(after, Math.exp(-Math.abs(after))) / soft) ** ex;
    if (isTriode) {
      const otherMu = mu * amplification;
      out[0] = otherMu;
      out[1] = vct + across * ((after - before) / kp + 1 / mu - 1 / otherMu);
      out[2] = (kg1 * lift) / current;
    } else {
      out[0] = 1 / (1 / mu + (after - before) / kp);
      out[1] = (kg1 * lift) / current;
      out[2] = kg2 * lift;
    }
  };
}

type Six = [number, number, number, number, number, number];

/** Whether a section's law is one that can be off in these ways. */
export function canBeOff(device: SectionDevice): device is keyof typeof offsetParameters {
  return device in offsetParameters;
}

/** The x at which ln(logistic / softplus) has the wanted value, by Newton's method from another x. */
function pointOf(from: number, wanted: number): number {
  const lowest = from - Math.max(longestWay, Math.abs(from) / 2);
  let x = from;
  for (let step = 0; step < newtonSteps; step += 1) {
    const small = Math.exp(-Math.abs(x));
    const share = (x > 0 ? 1 : small) / (1 + small);
    const soft = softplusOf(x, small);
    const fall = share / soft - (1 - share);
    x = Math.max(lowest, x + (Math.log(share / soft) - wanted) / (x > 0 ? fall : Math.max(fall, leastFall)));
  }
  return x;
}

function bendOf(x: number): number {
  const small = Math.exp(-Math.abs(x));
  return Math.log((x > 0 ? 1 : small) / (1 + small) / softplusOf(x, small));
}

/** ln(1 + exp(x)), with exp(−|x|) at hand. */
function softplusOf(x: number, small: number): number {
  return Math.max(0, x) + Math.log1p(small);
}
