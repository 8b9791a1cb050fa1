import type { CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { drainLinear } from '../../../shared-core/circuit/drain-linear.ts';
import { drainNonlinear } from '../../../shared-core/circuit/drain-nonlinear.ts';
import { type DrainStart, readStores, type StoreDrain } from '../../../shared-core/circuit/drain.ts';
import type { Simulator } from '../../helpers/simulator.ts';
import { secondsBelow } from '../../reference/drain-run.ts';
import { settled, solveCase } from './solve-case.ts';
import type { Subject } from './subjects.ts';

const safeVolts = 30;
/** Samples of a run, how far it goes beyond the longest time, and the longest that is followed, in seconds (s). */
const points = 1500;
const beyond = 1.1;
const longest = 200;
/** A source of less than this is an input: it stays, as the short that it is. */
const inputVolts = 1;

/** Drain of one circuit after its supply has gone. */
export interface DrainFigures {
  readonly stores: number;
  /** Worst relative difference of a time: cold by eigenvalues, hot by integration. */
  readonly cold: number;
  readonly hot: number;
}

/**
 * Compares the times of every store that begins above 30 V; null where there is none, and where the simulator
 * gives no transient of a diode between its own inner nodes.
 */
export async function compareDrains(simulator: Simulator, { of }: Subject): Promise<DrainFigures | null> {
  const { solver } = solveCase(of);
  const start = readStores(solver);
  const elements = settled(solver).elements.filter((each) => !isSupply(each));
  const linear = elements.filter(({ device }) => device.linear);
  const cold = drainLinear({ ...of, elements: linear }, start, { safeVolts });
  const hot = drainNonlinear({ ...of, elements }, start, { safeVolts, untilSeconds: longest });
  if (
    elements.some(({ device, parameters }) => device.name === 'diode' && parameters['breakdownVolts']! < 50)
  )
    return null;
  const coldError = await worstError(simulator, of.reference, linear, start, cold.stores);
  const hotError = await worstError(simulator, of.reference, elements, start, hot.stores);
  const stores = coldError.compared + hotError.compared;
  return stores > 0 ? { stores, cold: coldError.worst, hot: hotError.worst } : null;
}

function isSupply({ device, parameters }: CircuitElement): boolean {
  if (device.name === 'voltage-source') return Math.abs(parameters['volts'] ?? 0) >= inputVolts;
  return device.name.endsWith('-supply') || device.name === 'current-source';
}

async function worstError(
  simulator: Simulator,
  reference: string,
  elements: readonly CircuitElement[],
  start: DrainStart,
  ours: readonly StoreDrain[],
): Promise<{ readonly worst: number; readonly compared: number }> {
  const timed = ours.filter(({ seconds }) => seconds !== null && seconds > 0 && seconds < longest);
  if (timed.length === 0) return { worst: 0, compared: 0 };
  const until = beyond * Math.max(...timed.map(({ seconds }) => seconds!));
  const theirs = await secondsBelow(
    simulator,
    { circuit: { reference, elements }, start },
    timed.map(({ element }) => element),
    safeVolts,
    { until, step: until / points, startAmps: {} },
  );
  // A store that swings through zero between two samples has no time between them.
  const sure = timed.filter(({ element }) => Number.isFinite(theirs[element]));
  const errors = sure.map(({ element, seconds }) => Math.abs(seconds! / theirs[element]! - 1));
  return { worst: Math.max(0, ...errors), compared: sure.length };
}
