import type { CoreSource, LinearLoad, OpenPiece, OpenTransformer } from './transformer.ts';
import { wholeWinding } from './transformer.ts';
import type { SupplyWaveform } from './waveform.ts';

/** Where the two phases of a supply sit on the transformer. */
export interface PhasePieces {
  /** Piece (or pieces in series) that carries each phase; null where there is none. */
  readonly pieces: readonly [OpenPiece | null, OpenPiece | null];
  /** Both phases run through the same copper: a bridge. */
  readonly isShared: boolean;
}

/** What a true-rms meter shows on the transformer while a rectifier draws its pulses. */
export interface LoadedWindings {
  /** At the terminals of each phase's piece, in volts rms (V). */
  readonly phaseVolts: readonly [number, number];
  /** Across each linear load, in volts rms (V), in the order given. */
  readonly loadVolts: readonly number[];
  /** Current of the primary without its magnetising current, in amperes rms (A). */
  readonly primaryAmps: number;
}

/**
 * Root-mean-square voltages and currents of a transformer under pulsed currents.
 *
 * The core stands at e(t) = E·√2·sin θ − R·Σ n·i(t), with E and R from `reduceCore`; every rms follows from
 * three means of each pulse (i, i², i·sin θ). The phases never conduct together. The mains is taken as a
 * sine of its true rms value: flattened crests lower the peak, not what a heater or meter feels. The mean
 * of a half-wave current is carried over as if the core passed it, which it does not: for half-wave
 * supplies the primary's drop is slightly too high.
 */
export function loadedWindings(
  transformer: OpenTransformer,
  core: CoreSource,
  waveform: SupplyWaveform,
  phases: PhasePieces,
  loads: readonly LinearLoad[],
): LoadedWindings {
  const pulses = phases.pieces.map((piece, index) => {
    const { rmsAmps, sineAmps } = waveform.phases[index]!;
    return { ratio: piece?.ratio ?? 0, ohms: piece?.ohms ?? 0, square: rmsAmps ** 2, sine: sineAmps };
  });
  // Of J = Σ n·i, signed: mean of J·sin θ and of J².
  const sine = pulses.reduce((sum, pulse) => sum + pulse.ratio * pulse.sine, 0);
  const square = pulses.reduce((sum, pulse) => sum + pulse.ratio ** 2 * pulse.square, 0);
  const crest = Math.SQRT2 * core.volts;
  const phaseVolts = pulses.map(({ ratio }, own) => {
    // Drop at the terminals per ampere of each pulse; copper counts where the pulse runs through it.
    let drop = 0;
    let dropSquare = 0;
    pulses.forEach((pulse, index) => {
      const copper = index === own || phases.isShared ? pulse.ohms : 0;
      const perAmp = ratio * core.ohms * pulse.ratio + copper;
      drop += perAmp * pulse.sine;
      dropSquare += perAmp ** 2 * pulse.square;
    });
    const emf = ratio * crest;
    return Math.sqrt(Math.max(0, (emf * emf) / 2 - 2 * emf * drop + dropSquare));
  });
  const coreVolts = Math.sqrt(
    Math.max(0, (crest * crest) / 2 - 2 * crest * core.ohms * sine + core.ohms ** 2 * square),
  );
  // Ip = Y·e(t) + J = Y·E·√2·sin θ + (1 − Y·R)·J.
  const steady = core.loadSiemens * crest;
  const share = 1 - core.loadSiemens * core.ohms;
  return {
    phaseVolts: [phaseVolts[0]!, phaseVolts[1]!],
    loadVolts: loads.map((load) => {
      const winding = transformer.windings.find(({ name }) => name === load.winding);
      if (!winding) throw new Error(`the transformer has no winding ${load.winding}`);
      const { ratio, ohms } = wholeWinding(winding);
      return (ratio * coreVolts * load.ohms) / (ohms + load.ohms);
    }),
    primaryAmps: Math.sqrt(
      Math.max(0, (steady * steady) / 2 + 2 * steady * share * sine + share ** 2 * square),
    ),
  };
}
