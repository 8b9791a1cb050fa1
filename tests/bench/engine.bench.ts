import { Solver } from '../../shared-core/circuit/solver.ts';
import { circuit } from '../helpers/circuit.ts';
import { writeNetlist } from '../helpers/netlist.ts';
import { outputStage } from '../helpers/output-stage.ts';
import { pushPull } from '../helpers/push-pull.ts';
import { Simulator } from '../helpers/simulator.ts';
import type { BenchLine } from './main.ts';

const samples = 1000;
/** Longest loop that one run of the simulator takes without overflowing its stack. */
const samplesPerRun = 100;

/**
 * Speed of the engine: operating points from nothing, warm, and a tolerance run of 1000 samples beside the
 * same samples in one instance of the reference simulator (`alter` and `op` in its own loop, its fastest).
 */
export async function engineBench(): Promise<readonly BenchLine[]> {
  const lines = [outputStage, circuit(...pushPull)].flatMap((of): BenchLine[] => {
    const solver = new Solver(of);
    const cold = perSecond(() => solver.solve());
    return [{ what: `operating points of ${solver.size} unknowns from nothing`, value: cold, unit: '1/s' }];
  });
  const solver = new Solver(outputStage);
  const resistors = solver.compiled.elements.filter(({ device }) => device.name === 'resistor');
  const nominal = resistors.map(({ given }) => given[0]!);
  const factors = scatter(samples * resistors.length);
  solver.solve();
  const run = (): number => {
    const from = performance.now();
    for (let sample = 0; sample < samples; sample++) {
      for (let index = 0; index < resistors.length; index++) {
        const ohms = nominal[index]! * factors[sample * resistors.length + index]!;
        solver.setParameterAt(resistors[index]!, 0, ohms);
      }
      if (!solver.solve(true).converged) throw new Error('a sample did not converge');
    }
    return performance.now() - from;
  };
  run();
  const ours = run();
  const ids = resistors.map(({ id }) => id);
  const theirs = await simulatorRun(ids, nominal, factors);
  return [
    ...lines,
    { what: `tolerance run, ${samples} samples`, value: ours, unit: 'ms' },
    { what: `the same ${samples} operating points in the simulator`, value: theirs, unit: 'ms' },
    { what: 'ratio', value: theirs / ours, unit: '×', atLeast: 20 },
  ];
}

function perSecond(solve: () => void): number {
  for (let warm = 0; warm < 2000; warm++) solve();
  const [from, count] = [performance.now(), 5000];
  for (let index = 0; index < count; index++) solve();
  return (1000 * count) / (performance.now() - from);
}

/** Factors of ±5 %, the same on every machine (a plain linear congruence). */
function scatter(count: number): Float64Array {
  let state = 1;
  return Float64Array.from({ length: count }, () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return 0.95 + (0.1 * state) / 2 ** 32;
  });
}

async function simulatorRun(
  ids: readonly string[],
  nominal: readonly number[],
  factors: Float64Array,
): Promise<number> {
  const simulator = new Simulator();
  await simulator.operatingPoint(outputStage);
  const from = performance.now();
  for (let first = 0; first < samples; first += samplesPerRun) {
    const lines = Array.from({ length: samplesPerRun }, (_, offset) => [
      ...ids.map((id, index) => {
        const ohms = nominal[index]! * factors[(first + offset) * ids.length + index]!;
        return `alter r${id.toLowerCase()} = ${ohms}`;
      }),
      'op',
    ]).flat();
    const { text } = writeNetlist(outputStage, ['.control', ...lines, '.endc', '.op']);
    const { errors } = await simulator.run(text);
    if (errors.length > 0) throw new Error(errors.join('\n'));
  }
  const spent = performance.now() - from;
  simulator.close();
  return spent;
}
