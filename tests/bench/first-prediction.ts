import { readFileSync } from 'node:fs';
import { linearBands } from '../../shared-core/bands/linear-bands.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import { readKitFile } from '../../shared-core/kit/read-kit.ts';
import { plainBench } from '../../shared-core/prediction/bench.ts';
import { openCondition, plugVolts, solveCondition } from '../../shared-core/prediction/condition-model.ts';
import { readFigures } from '../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';

/** How far a first prediction goes: the nominal readings alone, or with linearised bands. */
export type FirstFigures = 'nominal' | 'bands';

/**
 * One first prediction in a fresh process: reads the kit file named, predicts one condition and prints the
 * milliseconds since the process was ready for its first line: after loading, reading the kit, predicting.
 *
 * @param started `performance.now()` at the process's own first line.
 */
export function predictFirst(path: string, condition: string, figures: FirstFigures, started: number): void {
  const loaded = performance.now();
  const read = readKitFile(readFileSync(path, 'utf8'), path);
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value.kit, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  const known = performance.now();
  const count = countFigures(chosen.value, condition, figures);
  if (count === 0) throw new Error(`nothing is predicted in ${condition}`);
  const marks = [loaded, known, performance.now()].map((mark) => mark - started);
  console.log(JSON.stringify(marks));
}

function countFigures(chosen: ChosenKit, id: string, figures: FirstFigures): number {
  const fitted = { measured: {}, valves: {} };
  if (figures === 'bands') {
    const bands = linearBands(chosen, id, plainBench, fitted);
    return bands?.readings.filter(({ nominal }) => nominal !== null).length ?? 0;
  }
  const condition = chosen.conditions.find((each) => each.id === id);
  if (!condition) return 0;
  const model = openCondition(chosen, condition, plainBench, fitted);
  const state = solveCondition(model, nominalWorld, plugVolts(condition, plainBench));
  const readings = chosen.readings.filter((reading) => reading.in === id);
  return readFigures(state, readings).filter(({ value }) => value !== null).length;
}
