import { readFileSync } from 'node:fs';
import { linearBands } from '../../shared-core/bands/linear-bands.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import { readKitFile } from '../../shared-core/kit/read-kit.ts';
import { plainBench } from '../../shared-core/prediction/bench.ts';

/**
 * One first prediction in a fresh process: reads the kit file named, predicts one condition and prints the
 * milliseconds since the process was ready for its first line: after loading, reading the kit, predicting.
 *
 * @param started `performance.now()` at the process's own first line.
 */
export function predictFirst(path: string, condition: string, started: number): void {
  const loaded = performance.now();
  const read = readKitFile(readFileSync(path, 'utf8'), path);
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value.kit, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  const known = performance.now();
  const bands = linearBands(chosen.value, condition, plainBench, { measured: {}, valves: {} });
  const count = bands?.readings.filter(({ nominal }) => nominal !== null).length ?? 0;
  if (count === 0) throw new Error(`nothing is predicted in ${condition}`);
  const marks = [loaded, known, performance.now()].map((mark) => mark - started);
  console.log(JSON.stringify(marks));
}
