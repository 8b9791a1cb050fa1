import { SmallSignal } from '../../../shared-core/circuit/small-signal.ts';
import type { Solver } from '../../../shared-core/circuit/solver.ts';
import type { Simulator } from '../../helpers/simulator.ts';
import { type Answer, askPoint, type Start, startOf } from './ask-simulator.ts';
import { solveCase, type SolvedCase, withVoltSources } from './solve-case.ts';
import { casesOf, type Subject } from './subjects.ts';

/** Two voltages agree within this, relative, or within `floorVolts`, whichever is more. */
const relative = 1e-6;
const floorVolts = 10e-6;
/** Currents of averaged supplies: the simulator's own relative tolerance, and what 1 GΩ draws from a kilovolt. */
const relativeAmps = 1e-6;
const floorAmps = 1e-6;

/** The simulator's own tolerance of currents, in amperes (A): on a net that hangs on a teraohm it is 10 mV. */
const leastAmps = 1e-14;

/** Of a kit's samples and faults one in so many goes through the slow loop, which takes most of the time. */
const loopEvery = 10;

/** What one subject came to. */
export interface PointFigures {
  readonly unknowns: number;
  readonly cases: number;
  readonly faults: number;
  /** Worst relative difference among nets above the floor's 10 V, and worst difference below, in volts (V). */
  readonly relativeError: number;
  readonly smallVolts: number;
  /** Worst difference of nets that the simulator's tolerance of currents alone leaves that open, in volts (V). */
  readonly hangingVolts: number;
  /** Worst relative difference of a supply's current. */
  readonly supplyError: number;
  readonly residualAmps: number;
  readonly nominalIterations: number;
  readonly sampleIterations: number;
  readonly faultIterations: number;
  readonly slowestFault: string;
  readonly stepped: readonly string[];
  readonly unsolved: readonly string[];
  /** Cases in which the simulator was asked again with tighter tolerances, from our solution. */
  readonly askedAgain: number;
  /** Cases in which it found no point either way, and in which it differs. */
  readonly noAnswer: readonly string[];
  readonly unlike: readonly string[];
}

interface Difference {
  readonly relativeError: number;
  readonly smallVolts: number;
  readonly hangingVolts: number;
  readonly supplyError: number;
  readonly isWithin: boolean;
  readonly worst: string;
}

/** Solves every case of a subject and compares it with the simulator. */
export async function comparePoints(
  simulator: Simulator,
  subject: Subject,
  samples: number,
  takes: (index: number) => boolean = () => true,
): Promise<PointFigures> {
  const tally = new Tally();
  let start: Start = {};
  let index = 0;
  for (const { kind, title, of } of casesOf(subject, samples)) {
    if (kind !== 'nominal' && !takes(index++)) continue;
    const solved = solveCase(of, subject.condition === '' || kind === 'nominal' || index % loopEvery === 0);
    if (kind === 'nominal') {
      start = startOf(solved.solver);
      tally.unknowns = solved.solver.size;
    }
    tally.addSolution(kind, title, solved);
    if (solved.converged) tally.addDifference(title, await compare(simulator, solved, start));
  }
  return tally.figures();
}

async function compare(
  simulator: Simulator,
  { solver }: SolvedCase,
  start: Start,
): Promise<{ readonly difference: Difference | null; readonly isSecond: boolean }> {
  const { of, sources } = withVoltSources(solver);
  const judge = (answer: Answer): Difference => judgeAnswer(solver, sources, answer);
  const first = await askPoint(simulator, of, start, false);
  if (first) {
    const difference = judge(first);
    if (difference.isWithin) return { difference, isSecond: false };
  }
  const own = startOf(solver);
  const second =
    (await askPoint(simulator, of, own, true)) ??
    (await askPoint(simulator, of, own, false, true)) ??
    (await askPoint(simulator, of, {}, false, true));
  return { difference: second && judge(second), isSecond: true };
}

function judgeAnswer(
  solver: Solver,
  sources: ReturnType<typeof withVoltSources>['sources'],
  { volts, amps }: Answer,
): Difference {
  let [relativeError, smallVolts, hangingVolts, supplyError, worstShare, worst] = [0, 0, 0, 0, 0, ''];
  let small: SmallSignal | null = null;
  for (const [net, expected] of volts) {
    const difference = Math.abs(solver.volts(net) - expected);
    const size = Math.abs(expected);
    const share = difference / Math.max(relative * size, floorVolts);
    if (share > 1) {
      small ??= new SmallSignal(solver);
      const ohms = Math.hypot(...small.impedanceBetween(net, solver.compiled.circuit.reference, 0));
      if (difference <= leastAmps * ohms) {
        hangingVolts = Math.max(hangingVolts, difference);
        continue;
      }
    }
    if (size * relative > floorVolts) relativeError = Math.max(relativeError, difference / size);
    else smallVolts = Math.max(smallVolts, difference);
    if (share <= worstShare) continue;
    worstShare = share;
    worst = `${net}: ${solver.volts(net)} and ${expected}`;
  }
  for (const { id, amps: own } of sources) {
    const expected = amps.get(id)!;
    const difference = Math.abs(own - expected);
    if (Math.abs(expected) > floorAmps) supplyError = Math.max(supplyError, difference / Math.abs(expected));
    const share = difference / (relativeAmps * Math.max(Math.abs(expected), floorAmps));
    if (share > Math.max(1, worstShare)) {
      worstShare = share;
      worst = `${id}: ${own} A and ${expected} A`;
    }
  }
  return { relativeError, smallVolts, hangingVolts, supplyError, isWithin: worstShare <= 1, worst };
}

/** Worst figures so far. */
class Tally {
  unknowns = 0;
  #cases = 0;
  #faults = 0;
  #errors = { relativeError: 0, smallVolts: 0, hangingVolts: 0, supplyError: 0, residualAmps: 0 };
  #iterations = { nominal: 0, sample: 0, fault: 0 };
  #slowestFault = '';
  #askedAgain = 0;
  readonly #lists = {
    stepped: [] as string[],
    unsolved: [] as string[],
    noAnswer: [] as string[],
    unlike: [] as string[],
  };

  addSolution(kind: 'nominal' | 'sample' | 'fault', title: string, solved: SolvedCase): void {
    this.#cases++;
    if (kind === 'fault') this.#faults++;
    if (!solved.converged) {
      this.#lists.unsolved.push(title);
      return;
    }
    if (!solved.isDirect) this.#lists.stepped.push(title);
    this.#errors.residualAmps = Math.max(this.#errors.residualAmps, solved.residualAmps);
    if (solved.iterations <= this.#iterations[kind]) return;
    this.#iterations[kind] = solved.iterations;
    if (kind === 'fault') this.#slowestFault = title;
  }

  addDifference(title: string, { difference, isSecond }: Awaited<ReturnType<typeof compare>>): void {
    if (isSecond) this.#askedAgain++;
    if (!difference) {
      this.#lists.noAnswer.push(title);
      return;
    }
    if (!difference.isWithin) {
      this.#lists.unlike.push(`${title}: ${difference.worst}`);
      return;
    }
    for (const name of ['relativeError', 'smallVolts', 'hangingVolts', 'supplyError'] as const) {
      this.#errors[name] = Math.max(this.#errors[name], difference[name]);
    }
  }

  figures(): PointFigures {
    const { nominal, sample, fault } = this.#iterations;
    return {
      ...{ unknowns: this.unknowns, cases: this.#cases, faults: this.#faults, ...this.#errors },
      ...{ nominalIterations: nominal, sampleIterations: sample, faultIterations: fault },
      ...{ slowestFault: this.#slowestFault, askedAgain: this.#askedAgain, ...this.#lists },
    };
  }
}
