/** A mains transformer as its maker states it. */
export interface StatedTransformer {
  /** Nominal primary voltage, in volts rms (V), and copper resistance, in ohms (Ω); null where not stated. */
  readonly primary: { readonly volts: number; readonly dcrOhms: number | null };
  readonly windings: readonly StatedWinding[];
}

/** One secondary, rated with every winding at its own current and the primary at its nominal voltage. */
export interface StatedWinding {
  readonly name: string;
  /** One half if centre-tapped, else the whole, in volts rms (V). */
  readonly volts: number;
  readonly centreTapped: boolean;
  /** Rated current, resistive, through the whole winding, in amperes rms (A). */
  readonly amps: number;
  /** One figure (the whole winding) or one for each half, in ohms (Ω); null where not stated. */
  readonly dcrOhms: readonly number[] | null;
  /** Volts rms (V) from the centre tap, or from end b, to a tap on the side of end a. */
  readonly tapVolts?: number;
}

/** A transformer as a circuit: turns ratios and copper, no leakage and no magnetising current. */
export interface OpenTransformer {
  readonly primaryVolts: number;
  readonly primaryOhms: number;
  readonly windings: readonly OpenWinding[];
  /** Names of what had to be estimated: `primary` or a winding. Widen their band. */
  readonly estimated: readonly string[];
}

export interface OpenWinding {
  readonly name: string;
  /** From end to end as its ends follow each other: one piece, or two halves; one more where it has a tap. */
  readonly pieces: readonly OpenPiece[];
}

export interface OpenPiece {
  /** EMF with nothing loaded and the nominal primary voltage, in volts rms (V). */
  readonly emfVolts: number;
  /** EMF over the voltage at the core, referred to the primary. */
  readonly ratio: number;
  readonly ohms: number;
}

/** Full-load copper loss of a small transformer, as a share of its rating, split evenly between the two sides. */
export const assumedRegulation = 0.1;

/**
 * Relative spread (two-sided, worst case) to give an EMF computed with an assumed regulation.
 *
 * Common practice, no source: transformers of 30–150 VA run from about 6 % to 14 % loss, so an EMF
 * computed back from the loaded voltage may be 4 % off either way; a stated resistance leaves the
 * maker's own tolerance.
 */
export const assumedRegulationSpread = 0.04;

/**
 * Every winding's open-circuit EMF, computed back from the loaded voltages.
 *
 * With all windings loaded the core stands at E = (Vp + √(Vp² − 4·Rp·P))/2, P = Σ (V + I·r)·I, because
 * the primary carries P/E and drops Rp·P/E; a winding's ratio is then (V + I·r)/E. Halves with the same
 * stated voltage have the same turns, hence the same EMF; their own copper stays with each.
 * A missing resistance is estimated from `assumedRegulation`.
 */
export function openCircuitVolts(transformer: StatedTransformer): OpenTransformer {
  const estimated: string[] = [];
  const loaded = transformer.windings.map((winding) => {
    if (winding.dcrOhms === null) estimated.push(winding.name);
    const pieces = winding.centreTapped ? 2 : 1;
    const ohms = winding.dcrOhms ?? [guessOhms(winding) * pieces];
    const total = ohms.reduce((sum, value) => sum + value, 0);
    return {
      name: winding.name,
      amps: winding.amps,
      pieceOhms: Array.from({ length: pieces }, (_, index) =>
        ohms.length === pieces ? ohms[index]! : total / pieces,
      ),
      // One piece's EMF: halves share the copper loss of the whole.
      emf: winding.volts + (winding.amps * total) / pieces,
      pieces,
      tapShare: winding.tapVolts === undefined ? null : winding.tapVolts / winding.volts,
    };
  });
  const power = loaded.reduce((sum, winding) => sum + winding.emf * winding.pieces * winding.amps, 0);
  const { volts } = transformer.primary;
  if (transformer.primary.dcrOhms === null) estimated.push('primary');
  const stated =
    transformer.primary.dcrOhms ?? (power > 0 ? ((assumedRegulation / 2) * volts * volts) / power : 0);
  // More copper than can carry the rated load: the highest that can, rather than no real root.
  const root = Math.sqrt(Math.max(0, volts * volts - 4 * stated * power));
  const core = (volts + root) / 2;
  return {
    primaryVolts: volts,
    primaryOhms: stated,
    estimated,
    windings: loaded.map(({ name, emf, pieceOhms, tapShare }) => {
      const whole = pieceOhms.map((ohms) => ({ emfVolts: (emf / core) * volts, ratio: emf / core, ohms }));
      return { name, pieces: tapShare === null ? whole : splitFirst(whole, tapShare) };
    }),
  };
}

/** The first piece in two at a tap: turns and copper in proportion, the tap's part last. */
function splitFirst([first, ...rest]: readonly OpenPiece[], share: number): readonly OpenPiece[] {
  const part = ({ emfVolts, ratio, ohms }: OpenPiece, of: number): OpenPiece => ({
    ...{ emfVolts: emfVolts * of, ratio: ratio * of, ohms: ohms * of },
  });
  return first ? [part(first, 1 - share), part(first, share), ...rest] : [];
}

function guessOhms({ volts, amps }: StatedWinding): number {
  return amps > 0 ? ((assumedRegulation / 2) * volts) / amps : 0;
}

/** A resistive load on a whole winding: a heater with its wires. */
export interface LinearLoad {
  readonly winding: string;
  readonly ohms: number;
}

/** What the rectified windings see of the mains, the primary and the linear loads (Thévenin). */
export interface CoreSource {
  /** Voltage at the core, referred to the primary, with only the linear loads, in volts rms (V). */
  readonly volts: number;
  /** Effective primary resistance, in ohms (Ω). */
  readonly ohms: number;
  /** The linear loads as one conductance at the core, in siemens (S). */
  readonly loadSiemens: number;
  /** Copper of the primary, in ohms (Ω). */
  readonly primaryOhms: number;
}

/**
 * Reduces mains, primary copper and the linear loads to one source.
 *
 * E = Vmains/(1 + Rp·Y), R = Rp/(1 + Rp·Y), Y = Σ n²/(r + R_load).
 *
 * @param mainsVolts In volts rms (V).
 */
export function reduceCore(
  transformer: OpenTransformer,
  mainsVolts: number,
  loads: readonly LinearLoad[],
): CoreSource {
  let loadSiemens = 0;
  for (const load of loads) {
    const winding = transformer.windings.find(({ name }) => name === load.winding);
    if (!winding) throw new Error(`the transformer has no winding ${load.winding}`);
    const { ratio, ohms } = wholeWinding(winding);
    loadSiemens += (ratio * ratio) / (ohms + load.ohms);
  }
  const share = 1 / (1 + transformer.primaryOhms * loadSiemens);
  return {
    volts: mainsVolts * share,
    ohms: transformer.primaryOhms * share,
    loadSiemens,
    primaryOhms: transformer.primaryOhms,
  };
}

/** The pieces of a winding in series. */
export function wholeWinding(winding: OpenWinding): OpenPiece {
  return joinPieces(winding.pieces);
}

/** Pieces in series as one; at least one. */
export function joinPieces(pieces: readonly OpenPiece[]): OpenPiece {
  return pieces.reduce((sum, piece) => ({
    emfVolts: sum.emfVolts + piece.emfVolts,
    ratio: sum.ratio + piece.ratio,
    ohms: sum.ohms + piece.ohms,
  }));
}

/**
 * Peak of the mains: 1.414 times rms, up to 4 % less where the crests are flattened.
 *
 * @param flatTop −0.04 to 0.
 */
export function peakOf(rmsVolts: number, flatTop: number): number {
  return Math.SQRT2 * rmsVolts * (1 + flatTop);
}

/**
 * Source resistance of a phase: copper of its pieces plus the reflected primary, in ohms (Ω).
 *
 * Rs = r + n²·Rp (RCA and Mullard data books, "plate supply impedance").
 */
export function sourceOhms(core: CoreSource, piece: OpenPiece): number {
  return piece.ohms + piece.ratio * piece.ratio * core.ohms;
}
