import { spawnSync } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { bundleScript } from '../run/bundle-script.mjs';
import { root } from '../run/child.mjs';
import type { FirstFigures } from './first-prediction.ts';
import type { BenchLine } from './main.ts';

const repeats = 7;

/**
 * From a fresh process's first line to the nominal readings and linearised bands of Heron with all its valves,
 * meter loads included: loading the program, reading and checking the kit file, predicting. Nothing is kept
 * from one process to the next. Built as the product is, in one file.
 */
export async function firstBench(): Promise<readonly BenchLine[]> {
  const program = pathToFileURL(await bundleScript('tests/bench/first-prediction.ts')).href;
  const [loaded, known, all] = runs(program, 'bands');
  const nominal = runs(program, 'nominal');
  return [
    { what: 'fresh process: loading the program', value: loaded, unit: 'ms' },
    { what: 'reading and checking the kit file', value: known - loaded, unit: 'ms' },
    { what: 'nominal readings, meters included', value: nominal[2] - nominal[1], unit: 'ms' },
    { what: 'their bands', value: all - known - (nominal[2] - nominal[1]), unit: 'ms' },
    { what: 'all of it (aim 150 ms)', value: all, unit: 'ms' },
  ];
}

/** The middle one of several fresh processes. */
function runs(program: string, figures: FirstFigures): readonly [number, number, number] {
  const line = `const started = performance.now();
    const { predictFirst } = await import(${JSON.stringify(program)});
    predictFirst('kits/heron/kit.yaml', 'running', '${figures}', started);`;
  const marks = Array.from({ length: repeats }, () => {
    const args = ['--input-type=module', '--eval', line];
    const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
    if (status !== 0) throw new Error(`the fresh process ended with ${status}: ${stderr}`);
    return JSON.parse(stdout) as readonly [number, number, number];
  });
  return marks.sort((one, other) => one[2] - other[2])[Math.floor(repeats / 2)]!;
}
