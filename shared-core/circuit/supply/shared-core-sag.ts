import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { integratePeriod } from './mains-period.ts';
import { findPeriodicStart } from './periodic-state.ts';
import type { OpenPiece } from './transformer.ts';
import { kneeVolts, lawNumbers, type PhaseCurve, phaseCurrent } from './rectifier-law.ts';

/** One capacitor-input supply among several on one transformer. */
export interface SharingSupply {
  readonly phases: readonly [PhaseCurve, PhaseCurve];
  /** Turns of each phase over those of the primary; negative where it is driven the other way round. */
  readonly ratios: readonly [number, number];
  /** Pieces of copper that each phase runs through, with the way round: supplies may share them. */
  readonly pieces: readonly [readonly SignedPiece[], readonly SignedPiece[]];
  /** Reservoir, in farads (F). */
  readonly farads: number;
  /** Mean current and voltage, in amperes (A) and volts (V). */
  readonly amps: number;
  readonly volts: number;
}

/** A piece of a winding that a phase's current runs through. */
export interface SignedPiece {
  readonly piece: OpenPiece;
  /** 1 where it is driven as the mains is, −1 the other way round. */
  readonly sign: 1 | -1;
}

/** Local error of one step, relative to each crest. */
const stepTolerance = 1e-9;
const mostSteps = 40000;
const mostSweeps = 40;
/** Currents agree to this, as drops relative to the crest. */
const sweepTolerance = 1e-10;

/**
 * By how much the pulses of the others lower the mean of each supply, at the same currents, in volts (V).
 *
 * All reservoirs run through one period together; what a pulse drops on the primary's copper (Rp·n·i,
 * the linear loads in parallel) is missing from the EMF of all that conduct at the same instant. The same
 * without that coupling is taken off, so that what both leave out cancels: the loads are constant currents.
 *
 * @param coreOhms Primary copper with the linear loads, in ohms (Ω).
 * @returns Null where no periodic state was found.
 */
export function sagOfSharing(
  supplies: readonly SharingSupply[],
  coreOhms: number,
  hertz: number,
): readonly number[] | null {
  const [together, alone] = [meansOf(supplies, coreOhms, hertz), meansOf(supplies, 0, hertz)];
  return together && alone && alone.map((volts, index) => volts - together[index]!);
}

function meansOf(
  supplies: readonly SharingSupply[],
  coreOhms: number,
  hertz: number,
): readonly number[] | null {
  const count = supplies.length;
  const tops = supplies.map(({ phases }) => Math.max(phases[0].emfVolts, phases[1].emfVolts));
  const shot = makeShot(supplies, coreOhms, hertz, tops);
  const state = new Float64Array(2 * count);
  const period = 1 / hertz;
  const run = (from: Float64Array): boolean => {
    state.fill(0);
    state.set(from);
    return integratePeriod(shot, state, period);
  };
  const start = findPeriodicStart(
    {
      scales: Float64Array.from(tops),
      run(from, gaps) {
        if (!run(from)) return false;
        for (let index = 0; index < count; index++) gaps[index] = state[index]! - from[index]!;
        return true;
      },
    },
    Float64Array.from(supplies, ({ volts }) => volts),
  );
  return start && run(start) ? [...state.subarray(count)].map((area) => area / period) : null;
}

function makeShot(
  supplies: readonly SharingSupply[],
  coreOhms: number,
  hertz: number,
  tops: readonly number[],
): TimeProblem {
  const turn = 2 * Math.PI * hertz;
  const period = 1 / hertz;
  const count = supplies.length;
  const out = new Float64Array(2);
  const currents = new Float64Array(2 * count);
  const mutual = mutualOhms(supplies, coreOhms);
  const knees = supplies.flatMap(({ phases }) => phases.map(kneeVolts));
  const sweep = (sine: number, state: Float64Array): number => {
    let change = 0;
    for (let index = 0; index < count; index++) {
      const { phases, ratios } = supplies[index]!;
      for (const phase of [0, 1] as const) {
        const curve = phases[phase];
        if (curve.law === lawNumbers.none) continue;
        const own = phase === 0 ? 1 : -1;
        const drop = dropBy(mutual, currents, 2 * index + phase);
        const drive = own * curve.emfVolts * sine * Math.sign(ratios[0]) - drop - state[index]!;
        // Far below the bend nothing flows that counts.
        out[0] = 0;
        if (drive > knees[2 * index + phase]! - 25 * curve.scale) phaseCurrent(curve, drive, out);
        change = Math.max(
          change,
          (Math.abs(out[0]! - currents[2 * index + phase]!) * curve.ohms) / tops[index]!,
        );
        currents[2 * index + phase] = out[0]!;
      }
    }
    return change;
  };
  return {
    maxStep: period / 60,
    maxSteps: mostSteps,
    tolerances: Float64Array.from([...tops, ...tops], (top, index) =>
      index < count ? stepTolerance * top : stepTolerance * top * period,
    ),
    switches: {
      count: 2 * count,
      tolerance: 1e-10 * Math.max(...tops),
      at(time, state, values) {
        const sine = Math.sin(turn * time);
        supplies.forEach(({ phases, ratios }, index) => {
          for (const phase of [0, 1] as const) {
            const own = (phase === 0 ? 1 : -1) * Math.sign(ratios[0]);
            values[2 * index + phase] =
              own * phases[phase].emfVolts * sine - state[index]! - knees[2 * index + phase]!;
          }
        });
      },
    },
    slopesAt(time, state, slopes) {
      const sine = Math.sin(turn * time);
      currents.fill(0);
      sweep(sine, state);
      for (let round = 0; round < mostSweeps && coreOhms > 0 && sweep(sine, state) > sweepTolerance; round++);
      for (let index = 0; index < count; index++) {
        const { farads, amps: load } = supplies[index]!;
        const amps = currents[2 * index]! + currents[2 * index + 1]!;
        slopes[index] = (amps - load) / farads;
        slopes[count + index] = state[index]!;
      }
    },
  };
}

/**
 * Volts that a phase loses for each ampere of another supply's phase, in ohms (Ω): primary copper that both are
 * reflected to, and copper of the winding that both run through. None between the phases of one supply: those
 * are in its own characteristic.
 */
function mutualOhms(supplies: readonly SharingSupply[], coreOhms: number): readonly Float64Array[] {
  const all = supplies.flatMap(({ ratios, pieces }, supply) =>
    ([0, 1] as const).map((phase) => ({ supply, ratio: ratios[phase], pieces: pieces[phase] })),
  );
  return all.map((one) =>
    Float64Array.from(all, (other) => {
      if (one.supply === other.supply || coreOhms === 0) return 0;
      const shared = one.pieces.reduce((sum, { piece, sign }) => {
        const same = other.pieces.find((candidate) => candidate.piece === piece);
        return same ? sum + sign * same.sign * piece.ohms : sum;
      }, 0);
      return one.ratio * other.ratio * coreOhms + shared;
    }),
  );
}

function dropBy(mutual: readonly Float64Array[], currents: Float64Array, phase: number): number {
  const ohms = mutual[phase]!;
  let volts = 0;
  for (let index = 0; index < ohms.length; index++) volts += ohms[index]! * currents[index]!;
  return volts;
}
