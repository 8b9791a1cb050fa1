import { engineBench } from './engine.bench.ts';
import { heronBench } from './heron.bench.ts';
import { reportBench } from './report.bench.ts';

/** One figure of a bench. */
export interface BenchLine {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** The least that is promised; below it the bench fails. */
  readonly atLeast?: number;
}

/** Every bench, by name. */
const benches: Readonly<Record<string, () => Promise<readonly BenchLine[]>>> = {
  engine: engineBench,
  heron: heronBench,
  report: reportBench,
};

/** Runs the benches named, or all, and prints their figures; 1 where one falls short of its promise. */
export async function main(names: readonly string[]): Promise<number> {
  let isShort = false;
  for (const [name, bench] of Object.entries(benches)) {
    if (names.length > 0 && !names.includes(name)) continue;
    console.log(name);
    for (const { what, value, unit, atLeast } of await bench()) {
      const isLow = atLeast !== undefined && value < atLeast;
      isShort ||= isLow;
      const promise = atLeast === undefined ? '' : ` (at least ${atLeast}${isLow ? ': FALLS SHORT' : ''})`;
      console.log(`  ${what.padEnd(60)} ${value.toFixed(1).padStart(12)} ${unit}${promise}`);
    }
  }
  return isShort ? 1 : 0;
}
