import type { Circuit, CircuitElement } from '../circuit/circuit.ts';
import { Solver } from '../circuit/solver.ts';
import { resistor } from '../devices/resistor.ts';
import { voltageSource } from '../devices/voltage-source.ts';

/**
 * Heater current against voltage: I ∝ V^0.6 near the rated point, as of an incandescent filament
 * (tungsten: I ∝ V^0.55 to 0.6; common practice, no source for oxide-coated heaters).
 */
const heaterExponent = 0.6;

/** A heater between two nets, by its rated figures. */
export interface HeaterLoad {
  readonly id: string;
  readonly nets: readonly [string, string];
  readonly ratedVolts: number;
  readonly ratedAmps: number;
}

/** A winding, or half of one, between two nets. */
export interface WindingEmf {
  /** `T1.heater`, `T1.ht.1`, `T1.ht.2`. */
  readonly id: string;
  readonly transformer: string;
  /** Plus and minus at the same instant: dotted end first. */
  readonly nets: readonly [string, string];
  readonly ratio: number;
  readonly ohms: number;
}

/** What the mains side and everything at mains frequency is made of. */
export interface MainsNetwork {
  readonly reference: string;
  readonly transformers: readonly {
    readonly id: string;
    /** Rms at the primary's ends, in volts (V); 0 where it is not connected. */
    readonly volts: number;
    readonly primaryOhms: number;
  }[];
  readonly windings: readonly WindingEmf[];
  readonly heaters: readonly HeaterLoad[];
  readonly resistors: readonly {
    readonly id: string;
    readonly nets: readonly [string, string];
    readonly ohms: number;
  }[];
  /** Sources of known rms: line against neutral. */
  readonly sources: readonly {
    readonly id: string;
    readonly nets: readonly [string, string];
    readonly volts: number;
  }[];
}

/** How rectifier pulses load a winding half: averages over one cycle. */
export interface PulseLoad {
  /** Id of the winding half. */
  readonly winding: string;
  /** Mean of i·sin θ of the half, in amperes (A): its in-phase part. */
  readonly sineAmps: number;
  /** Root of the mean of i², in amperes (A). */
  readonly rmsAmps: number;
}

/** The solved network at mains frequency: everything resistive and in phase. */
export interface MainsSolution {
  readonly converged: boolean;
  /** Rms against the reference, in volts (V), with the sign of its phase. */
  readonly volts: (net: string) => number;
  /** Current of each winding from heaters and resistors, in amperes rms (A). */
  readonly amps: Readonly<Record<string, number>>;
  /** Rms current of each primary, pulses included, magnetising current left out, in amperes (A). */
  readonly primaryAmps: Readonly<Record<string, number>>;
  readonly heaterVolts: Readonly<Record<string, number>>;
  /** Of each transformer: the source that rectifiers work from. */
  readonly cores: Readonly<Record<string, { readonly plainVolts: number; readonly ohms: number }>>;
}

const rounds = 40;
const settled = 1e-11;

/** One primary as everything behind it sees it. */
interface Core {
  /** Rms behind the primary's copper with heaters and resistors only, in volts (V). */
  plainVolts: number;
  /** The same with the pulses. */
  volts: number;
  /** Primary copper with heaters and resistors in parallel, in ohms (Ω). */
  ohms: number;
  /** Steady current, in amperes rms (A). */
  steadyAmps: number;
}

/**
 * Solves the mains side: primary drop, heaters as filaments, rms volts of every net.
 *
 * With only linear loads the primary is a source E behind R. The pulses of the rectifiers come on top:
 * (E·√2·sin θ − R·J(t)) squared and averaged gives E² − 2√2·E·R·mean(J·sin θ) + R²·mean(J²), with J the
 * pulses referred to the primary. The same with its own copper holds at the ends of a pulsed winding.
 * Meters are taken to show true rms.
 */
export function solveMainsNetwork(network: MainsNetwork, pulses: readonly PulseLoad[]): MainsSolution {
  const { circuit, heaterOhms } = buildNetwork(network);
  const solver = new Solver(circuit);
  const cores: Record<string, Core> = {};
  for (const { id, volts, primaryOhms } of network.transformers) {
    cores[id] = { plainVolts: volts, volts, ohms: primaryOhms, steadyAmps: 0 };
  }
  let converged = false;
  const amps: Record<string, number> = {};
  for (let round = 0; round < rounds && !converged; round += 1) {
    for (const winding of network.windings) {
      solver.setParameter(winding.id, 'volts', terminalVolts(network, winding, cores, pulses));
    }
    if (!solver.solve(true).converged) break;
    for (const winding of network.windings) amps[winding.id] = -branchAmps(solver, winding.id);
    const change = updateCores(network, amps, pulses, cores);
    converged = Math.max(change, updateHeaters(network, solver, heaterOhms)) < settled;
  }
  return describe(network, solver, converged, { cores, amps, pulses });
}

/** Rms EMF of a winding, less what its own pulses drop in its own copper, in volts (V). */
function terminalVolts(
  network: MainsNetwork,
  winding: WindingEmf,
  cores: Readonly<Record<string, Core>>,
  pulses: readonly PulseLoad[],
): number {
  const core = cores[winding.transformer];
  if (!core) return 0;
  const own = pulses.find((pulse) => pulse.winding === winding.id);
  if (!own) return winding.ratio * core.volts;
  const emf = winding.ratio * core.plainVolts;
  let drop = 0;
  let square = 0;
  for (const other of network.windings) {
    const pulse = pulses.find((candidate) => candidate.winding === other.id);
    if (!pulse || other.transformer !== winding.transformer) continue;
    const perAmp = winding.ratio * other.ratio * core.ohms + (other.id === winding.id ? winding.ohms : 0);
    drop += perAmp * pulse.sineAmps;
    square += (perAmp * pulse.rmsAmps) ** 2;
  }
  return Math.sqrt(Math.max(0, emf ** 2 - 2 * Math.SQRT2 * emf * drop + square));
}

function branchAmps(solver: Solver, id: string): number {
  const index = solver.compiled.branches.indexOf(`${id}.current`);
  return solver.unknowns[solver.compiled.nets.length + index] ?? 0;
}

function buildNetwork(network: MainsNetwork): { circuit: Circuit; heaterOhms: Record<string, number> } {
  const elements: CircuitElement[] = [];
  const add = (id: string, nets: readonly [string, string], ohms: number): void => {
    elements.push({ id, device: resistor, nets, parameters: { ohms } });
  };
  for (const { id, nets, volts } of network.sources) {
    elements.push({ id, device: voltageSource, nets, parameters: { volts } });
  }
  for (const { id, nets, ohms } of network.windings) {
    elements.push({ id, device: voltageSource, nets: [`${id}#emf`, nets[1]], parameters: {} });
    add(`${id}#copper`, [`${id}#emf`, nets[0]], Math.max(ohms, 1e-3));
  }
  const heaterOhms: Record<string, number> = {};
  for (const heater of network.heaters) {
    heaterOhms[heater.id] = heater.ratedVolts / heater.ratedAmps;
    add(heater.id, heater.nets, heater.ratedVolts / heater.ratedAmps);
  }
  for (const { id, nets, ohms } of network.resistors) add(id, nets, ohms);
  return { circuit: { elements, reference: network.reference }, heaterOhms };
}

/** Filament law: R = R_rated·(V / V_rated)^(1 − 0.6), not below a tenth of the hot resistance. */
function updateHeaters(network: MainsNetwork, solver: Solver, ohms: Record<string, number>): number {
  let largest = 0;
  for (const { id, nets, ratedVolts, ratedAmps } of network.heaters) {
    const share = Math.abs(solver.volts(nets[0]) - solver.volts(nets[1])) / ratedVolts;
    const next = (ratedVolts / ratedAmps) * Math.max(0.1, share ** (1 - heaterExponent));
    largest = Math.max(largest, Math.abs(next / (ohms[id] ?? next) - 1));
    ohms[id] = next;
    solver.setParameter(id, 'ohms', next);
  }
  return largest;
}

/** Sums of the pulses referred to the primary: mean of J·sin θ, and of J² (halves conduct in turn). */
function pulsesAtPrimary(
  network: MainsNetwork,
  transformer: string,
  pulses: readonly PulseLoad[],
): { readonly sine: number; readonly square: number } {
  let sine = 0;
  let square = 0;
  for (const { id, transformer: owner, ratio } of network.windings) {
    const pulse = owner === transformer ? pulses.find(({ winding }) => winding === id) : undefined;
    sine += ratio * (pulse?.sineAmps ?? 0);
    square += (ratio * (pulse?.rmsAmps ?? 0)) ** 2;
  }
  return { sine, square };
}

function updateCores(
  network: MainsNetwork,
  amps: Readonly<Record<string, number>>,
  pulses: readonly PulseLoad[],
  cores: Record<string, Core>,
): number {
  let largest = 0;
  for (const { id, volts, primaryOhms } of network.transformers) {
    const before = cores[id];
    if (!before || volts === 0) continue;
    const own = network.windings.filter((winding) => winding.transformer === id);
    const steadyAmps = own.reduce((sum, winding) => sum + winding.ratio * (amps[winding.id] ?? 0), 0);
    const share = 1 / (1 + (primaryOhms * steadyAmps) / before.volts);
    const [plainVolts, ohms] = [volts * share, primaryOhms * share];
    const { sine, square } = pulsesAtPrimary(network, id, pulses);
    const now = Math.sqrt(
      Math.max(0, plainVolts ** 2 - 2 * Math.SQRT2 * plainVolts * ohms * sine + ohms ** 2 * square),
    );
    largest = Math.max(largest, Math.abs(now - before.volts) / volts);
    cores[id] = { plainVolts, volts: now, ohms, steadyAmps };
  }
  return largest;
}

interface Found {
  readonly cores: Readonly<Record<string, Core>>;
  readonly amps: Readonly<Record<string, number>>;
  readonly pulses: readonly PulseLoad[];
}

function describe(network: MainsNetwork, solver: Solver, converged: boolean, found: Found): MainsSolution {
  const { cores, amps, pulses } = found;
  const primaryAmps: Record<string, number> = {};
  for (const { id, volts: mains, primaryOhms } of network.transformers) {
    const core = cores[id];
    if (!core || mains === 0) continue;
    // Y·E·√2·sin θ + (1 − Y·R)·J, with Y the linear loads at the core.
    const loadSiemens = core.volts > 0 ? core.steadyAmps / core.volts : 0;
    const steady = loadSiemens * core.plainVolts;
    const share = 1 / (1 + primaryOhms * loadSiemens);
    const { sine, square } = pulsesAtPrimary(network, id, pulses);
    primaryAmps[id] = Math.sqrt(steady ** 2 + 2 * Math.SQRT2 * steady * share * sine + share ** 2 * square);
  }
  const volts = (net: string): number =>
    net === network.reference || !solver.compiled.netIndex.has(net) ? 0 : solver.volts(net);
  const heaterVolts: Record<string, number> = {};
  for (const { id, nets } of network.heaters) heaterVolts[id] = Math.abs(volts(nets[0]) - volts(nets[1]));
  return { converged, volts, amps, primaryAmps, heaterVolts, cores };
}
