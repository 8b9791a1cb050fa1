import { eliminationBench } from './elimination.bench.ts';
import { engineBench } from './engine.bench.ts';
import { explainBench } from './explain.bench.ts';
import { firstBench } from './first.bench.ts';
import { gatherBench } from './gather.bench.ts';
import { heronBench } from './heron.bench.ts';
import { pushPullBench } from './push-pull.bench.ts';
import { reportBench } from './report.bench.ts';
import { screenBench } from './screen.bench.ts';

/** One figure of a bench. */
export interface BenchLine {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** The least that is promised; below it the bench fails. */
  readonly atLeast?: number;
  /** The most that is promised. */
  readonly atMost?: number;
}

/** Every bench, by name. */
const benches: Readonly<Record<string, () => Promise<readonly BenchLine[]>>> = {
  engine: engineBench,
  elimination: eliminationBench,
  'push-pull': pushPullBench,
  heron: heronBench,
  first: firstBench,
  report: reportBench,
  gather: gatherBench,
  explain: explainBench,
  screen: screenBench,
};

/** Runs the benches named, or all, and prints their figures; 1 where one falls short of its promise. */
export async function main(names: readonly string[]): Promise<number> {
  let isShort = false;
  for (const [name, bench] of Object.entries(benches)) {
    if (names.length > 0 && !names.includes(name)) continue;
    console.log(name);
    for (const { what, value, unit, atLeast, atMost } of await bench()) {
      const isOff = !(value >= (atLeast ?? -Infinity) && value <= (atMost ?? Infinity));
      isShort ||= isOff;
      const limit = atLeast === undefined ? atMost && `at most ${atMost}` : `at least ${atLeast}`;
      const promise = limit ? ` (${limit}${isOff ? ': FALLS SHORT' : ''})` : '';
      console.log(`  ${what.padEnd(60)} ${value.toFixed(1).padStart(12)} ${unit}${promise}`);
    }
  }
  return isShort ? 1 : 0;
}
