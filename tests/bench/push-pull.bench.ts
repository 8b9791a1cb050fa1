import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Circuit } from '../../shared-core/circuit/circuit.ts';
import { solveOperatingPoint } from '../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../shared-core/circuit/solver.ts';
import { circuit } from '../helpers/circuit.ts';
import { netlistId, writeNetlist } from '../helpers/netlist.ts';
import { faultList, pushPullFour } from '../helpers/push-pull-four.ts';
import { Simulator } from '../helpers/simulator.ts';
import type { BenchLine } from './main.ts';

const samples = 1000;
/** Longest loop that one run of the simulator takes without overflowing its stack. */
const pointsPerRun = 100;
const repeats = 5;

/**
 * The push-pull amplifier with four output valves: a tolerance run and its list of faults, beside the reference
 * simulator's operating points alone. Its reading of netlists is timed by itself and taken off; so is our
 * compiling of circuits, which is printed.
 *
 * The simulator is told the answer beforehand (`.nodeset` of every node at the sound amplifier's voltage): from
 * nothing it falls back on stepping, which takes it a thousand iterations instead of seven.
 */
export async function pushPullBench(): Promise<readonly BenchLine[]> {
  const of = circuit(...pushPullFour);
  const ours = toleranceRun(of);
  const simulator = new Simulator();
  const bare = await pointsOf(simulator, of, () => ['op']);
  const altered = await pointsOf(simulator, of, alterations(of));
  const native = nativePoints(of);
  const faults = faultList(pushPullFour).map(({ elements }) => circuit(...elements));
  const ourFaults = solveFaults(faults);
  const theirFaults = await simulateFaults(simulator, faults);
  simulator.close();
  return [
    { what: `push-pull: tolerance run, ${samples} samples`, value: ours, unit: 'ms' },
    { what: `the simulator: ${samples} operating points alone`, value: bare, unit: 'ms' },
    { what: 'ratio', value: bare / ours, unit: '×', atLeast: 50 },
    { what: 'the simulator: the same samples by alter, its reading included', value: altered, unit: 'ms' },
    ...(native === null
      ? []
      : [{ what: `native simulator: ${samples} operating points alone`, value: native, unit: 'ms' }]),
    { what: `push-pull: list of ${faults.length} faults`, value: ourFaults.solving, unit: 'ms' },
    { what: 'their circuits compiled', value: ourFaults.compiling, unit: 'ms' },
    { what: 'the simulator: the same faults, operating points alone', value: theirFaults, unit: 'ms' },
    { what: 'ratio', value: theirFaults / ourFaults.solving, unit: '×', atLeast: 20 },
  ];
}

function resistorsOf(of: Circuit): readonly { readonly id: string; readonly ohms: number }[] {
  return of.elements.flatMap(({ id, device, parameters }) =>
    device.name === 'resistor' ? [{ id, ohms: parameters['ohms']! }] : [],
  );
}

/** Factors of ±5 %, the same on every machine (a plain linear congruence). */
function scatter(count: number): Float64Array {
  let state = 1;
  return Float64Array.from({ length: count }, () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return 0.95 + (0.1 * state) / 2 ** 32;
  });
}

/** Where the sound amplifier stands, for the simulator to start from; nets it does not have are left out. */
function startLines(of: Circuit): readonly string[] {
  const { volts } = solveOperatingPoint(circuit(...pushPullFour));
  return [...writeNetlist(of, []).nodes].flatMap(([net, node]) =>
    node === '0' || volts[net] === undefined ? [] : [`.nodeset v(${node})=${volts[net]}`],
  );
}

function toleranceRun(of: Circuit): number {
  const solver = new Solver(of);
  const resistors = resistorsOf(of).map(({ id, ohms }) => ({ element: solver.element(id), ohms }));
  const factors = scatter(samples * resistors.length);
  solver.solve();
  const run = (): void => {
    for (let sample = 0; sample < samples; sample++) {
      resistors.forEach(({ element, ohms }, index) =>
        solver.setParameterAt(element, 0, ohms * factors[sample * resistors.length + index]!),
      );
      if (!solver.solve(true).converged) throw new Error('a sample did not converge');
    }
  };
  run();
  return median(Array.from({ length: repeats }, () => timed(run)));
}

function alterations(of: Circuit): (sample: number) => readonly string[] {
  const resistors = resistorsOf(of);
  const factors = scatter(samples * resistors.length);
  return (sample) => [
    ...resistors.map(({ id, ohms }, index) => {
      const value = ohms * factors[sample * resistors.length + index]!;
      return `alter r${netlistId(id)} = ${value}`;
    }),
    'op',
  ];
}

/** Time of `samples` points in one instance, less that of reading the netlist as often. */
async function pointsOf(
  simulator: Simulator,
  of: Circuit,
  linesOf: (sample: number) => readonly string[],
): Promise<number> {
  const start = startLines(of);
  const run = async (first: number, count: number): Promise<number> => {
    const lines = Array.from({ length: count }, (_, offset) => linesOf(first + offset)).flat();
    const { text } = writeNetlist(of, [...start, '.control', ...lines, '.endc', '.op']);
    const from = performance.now();
    const { errors } = await simulator.run(text);
    if (errors.length > 0) throw new Error(errors.join('\n'));
    return performance.now() - from;
  };
  await run(0, 1);
  const reading = median([await run(0, 0), await run(0, 0), await run(0, 0)]);
  let spent = 0;
  for (let first = 0; first < samples; first += pointsPerRun) {
    spent += (await run(first, pointsPerRun)) - reading;
  }
  return spent;
}

/** The same in the simulator's native build, where there is one; its start and reading are taken off. */
function nativePoints(of: Circuit): number | null {
  if (spawnSync('ngspice', ['--version'], { encoding: 'utf8' }).status !== 0) return null;
  const folder = mkdtempSync(join(tmpdir(), 'kitwright-bench-'));
  try {
    const run = (points: number): number => {
      const file = join(folder, 'points.cir');
      const loop = points > 0 ? [`repeat ${points}`, 'op', 'end'] : [];
      writeFileSync(file, writeNetlist(of, [...startLines(of), '.control', ...loop, 'quit', '.endc']).text);
      return timed(() => spawnSync('ngspice', ['-b', file], { encoding: 'utf8' }));
    };
    run(1);
    return run(samples) - median([run(0), run(0), run(0)]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function solveFaults(faults: readonly Circuit[]): { readonly solving: number; readonly compiling: number } {
  const solvers = faults.map((each) => new Solver(each));
  const solve = (): void => {
    for (const solver of solvers) {
      if (!solver.solve().converged) throw new Error('a fault did not converge');
    }
  };
  solve();
  return {
    solving: median(Array.from({ length: repeats }, () => timed(solve))),
    compiling: median(
      Array.from({ length: repeats }, () => timed(() => faults.map((each) => new Solver(each)))),
    ),
  };
}

/** Every fault is a netlist of its own; each is read twice, once without an operating point. */
async function simulateFaults(simulator: Simulator, faults: readonly Circuit[]): Promise<number> {
  let spent = 0;
  for (const fault of faults) {
    const start = startLines(fault);
    const run = async (lines: readonly string[]): Promise<number> => {
      const { text } = writeNetlist(fault, [...start, '.control', ...lines, '.endc', '.op']);
      const from = performance.now();
      await simulator.run(text);
      return performance.now() - from;
    };
    const points = 4;
    const reading = await run([]);
    spent += ((await run(Array.from({ length: points }, () => 'op'))) - reading) / points;
  }
  return spent;
}

function timed(run: () => unknown): number {
  const from = performance.now();
  run();
  return performance.now() - from;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}
