import { spawnSync } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { bundleScript } from '../run/bundle-script.mjs';
import { root } from '../run/child.mjs';
import type { BenchLine } from './main.ts';

const repeats = 7;

/**
 * From a fresh process's first line to the nominal readings and linearised bands of Heron with all its valves,
 * meter loads included: loading the program, reading and checking the kit file, predicting.
 */
export async function firstBench(): Promise<readonly BenchLine[]> {
  const program = pathToFileURL(await bundleScript('tests/bench/first-prediction.ts')).href;
  const line = `const started = performance.now();
    const { predictFirst } = await import(${JSON.stringify(program)});
    predictFirst('kits/heron/kit.yaml', 'running', started);`;
  const runs = Array.from({ length: repeats }, () => {
    const args = ['--input-type=module', '--eval', line];
    const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
    if (status !== 0) throw new Error(`the fresh process ended with ${status}: ${stderr}`);
    return JSON.parse(stdout) as readonly [number, number, number];
  });
  const best = [...runs].sort((one, other) => one[2] - other[2])[Math.floor(repeats / 2)]!;
  return [
    { what: 'fresh process: the program is loaded', value: best[0], unit: 'ms' },
    { what: 'fresh process: the kit file is read', value: best[1], unit: 'ms' },
    { what: 'fresh process: first figures and bands (aim 150 ms)', value: best[2], unit: 'ms' },
  ];
}
