import { spawnSync } from 'node:child_process';
import { openToleranceRun } from '../../shared-core/bands/tolerance-run.ts';
import { root } from '../run/child.mjs';
import { writeNetlist } from '../helpers/netlist.ts';
import { Simulator } from '../helpers/simulator.ts';
import { circuitOf, heronBuilds, solveHeron, suppliesOf } from '../reference/heron.ts';
import { asStated } from '../shared-core/prediction/heron.ts';
import type { BenchLine } from './main.ts';

const samples = 1000;
/** Longest loop that one run of the simulator takes without overflowing its stack. */
const pointsPerRun = 100;
const repeats = 5;

/**
 * Heron with all its valves: a tolerance run with every part, valve and winding scattered, beside as many bare
 * operating points of the same circuit in one instance of the reference simulator, nothing altered between them.
 */
export async function heronBench(): Promise<readonly BenchLine[]> {
  const [build] = heronBuilds();
  if (build === undefined) throw new Error('Heron has no build');
  const from = performance.now();
  const ready = openToleranceRun(build.chosen, 'running', build.bench, asStated);
  if (ready === undefined) throw new Error('Heron has no running condition');
  const setUp = performance.now() - from;
  ready.run(samples, 1);
  const ours = median(
    Array.from({ length: repeats }, (_, seed) => timed(() => ready.run(samples, seed + 2))),
  );
  const theirs = await simulatorPoints();
  return [
    { what: 'Heron: making a tolerance run ready', value: setUp, unit: 'ms' },
    { what: `Heron: tolerance run, ${samples} amplifiers`, value: ours, unit: 'ms' },
    { what: `the simulator: ${samples} bare operating points of it`, value: theirs, unit: 'ms' },
    { what: 'ratio', value: theirs / ours, unit: '×', atLeast: 20 },
    { what: 'first prediction with bands, from a fresh process', value: freshProcess(), unit: 'ms' },
  ];
}

function timed(run: () => unknown): number {
  const from = performance.now();
  run();
  return performance.now() - from;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

/** Time for `op` alone: parsing and start-up of the simulator are measured by a run of one point and taken off. */
async function simulatorPoints(): Promise<number> {
  const [build] = heronBuilds();
  if (build === undefined) throw new Error('Heron has no build');
  const state = solveHeron(build, 'running');
  const asAmps = Object.fromEntries(suppliesOf(state).map(({ id, amps }) => [id, amps]));
  const netlist = (points: number): string => {
    const control = ['.control', ...Array.from({ length: points }, () => 'op'), '.endc', '.op'];
    return writeNetlist(circuitOf(state), control, { asAmps }).text;
  };
  const simulator = new Simulator();
  const run = async (points: number): Promise<number> => {
    const from = performance.now();
    const { errors } = await simulator.run(netlist(points));
    if (errors.length > 0) throw new Error(errors.join('\n'));
    return performance.now() - from;
  };
  await run(1);
  const parsing = median([await run(0), await run(0), await run(0)]);
  let spent = 0;
  for (let done = 0; done < samples; done += pointsPerRun) spent += (await run(pointsPerRun)) - parsing;
  simulator.close();
  return spent;
}

/** From the start of a new process to the answer of `kitwright expect` for one condition. */
function freshProcess(): number {
  const args = ['electron/cli/kitwright.mjs', 'expect', 'kits/heron', '--condition', 'running', '--json'];
  const start = (): void => {
    const { status, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
    if (status !== 0) throw new Error(`kitwright expect ended with ${status}: ${stderr}`);
  };
  start();
  return median(Array.from({ length: repeats }, () => timed(start)));
}
