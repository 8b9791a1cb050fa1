import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { seededRandom, normalDraw } from '../../shared-core/numerics/random.ts';
import { bandOf, fleetRecordText } from '../helpers/fleet-records.ts';
import { bundleScript } from '../run/bundle-script.mjs';
import type { BenchLine } from './main.ts';

/** Sizes of fleets; the largest takes minutes and a gigabyte, and is made when KITWRIGHT_BENCH_LONG is set. */
const sizes = [1000, 10_000, ...(process.env['KITWRIGHT_BENCH_LONG'] === undefined ? [] : [100_000])];

/** Largest record of the fleet, in bytes. */
const largest = 10_000;

/** Runs of each size, of which the fastest counts: others use the machine too. */
const repeats = 3;

interface Pass {
  readonly seconds: number;
  readonly peakBytes: number;
  readonly counted: number;
}

/** Gathering 1,000, 10,000 and 100,000 records with every chain verified, beside one pass that only parses them. */
export async function gatherBench(): Promise<readonly BenchLine[]> {
  const child = await bundleScript('tests/bench/gather-child.ts');
  const folder = mkdtempSync(join(tmpdir(), 'kitwright-fleet-'));
  try {
    const passes = sizes.map((size, index) => {
      write(folder, sizes[index - 1] ?? 0, size);
      const [parse, gather] = [fastest('parse', folder, size, child), fastest('gather', folder, size, child)];
      return { size, parse, gather };
    });
    const [first] = passes;
    return passes.flatMap(({ size, parse, gather }): BenchLine[] => [
      { what: `gather ${size} records, every chain verified`, value: gather.seconds * 1000, unit: 'ms' },
      {
        what: `  of the time of one parsing pass over ${size}`,
        ...{ value: gather.seconds / parse.seconds, unit: '×', atMost: 4 },
      },
      ...(first && first.size !== size
        ? [
            {
              what: `  time for each record, against ${first.size} records`,
              ...{
                value: (gather.seconds / size / (first.gather.seconds / first.size)) * 100,
                unit: '%',
                atMost: 120,
              },
            },
            {
              what: `  peak memory, against ${first.size} records`,
              ...{ value: (gather.peakBytes / first.gather.peakBytes) * 100, unit: '%', atMost: 120 },
            },
          ]
        : [{ what: `  peak memory at ${size}`, value: gather.peakBytes / 1e6, unit: 'MB' }]),
    ]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function write(folder: string, from: number, to: number): void {
  for (let number = from; number < to; number += 1) {
    const random = seededRandom(number);
    const value = 100e3 + 5e3 * normalDraw(random);
    const band = bandOf(100e3, 5e3);
    const text = fleetRecordText({
      ...{ number, brand: random() < 0.5 ? 'Ostrava' : 'Lark' },
      readings: {
        'b1-cold': { values: [value], band },
        'b2-cold': { values: [value * 1.1], band: bandOf(110e3, 6e3) },
      },
      steps: { 'wire-ht': 900 + 100 * random(), 'cold-read': 300 * random() },
    });
    if (Buffer.byteLength(text) > largest) throw new Error(`a record of ${text.length} characters`);
    writeFileSync(join(folder, `${String(number).padStart(6, '0')}.json`), text);
  }
}

function fastest(what: 'gather' | 'parse', folder: string, size: number, child: string): Pass {
  const runs = Array.from({ length: size > 10_000 ? 1 : repeats }, () => run(what, folder, child));
  const best = runs.toSorted((one, other) => one.seconds - other.seconds)[0];
  if (best?.counted !== size) throw new Error(`${best?.counted} of ${size} records were counted`);
  return { ...best, peakBytes: Math.max(...runs.map(({ peakBytes }) => peakBytes)) };
}

function run(what: string, folder: string, child: string): Pass {
  const start = `import(${JSON.stringify(pathToFileURL(child).href)}).then((each) => each.main(process.argv.slice(1)))`;
  const out = execFileSync(process.execPath, ['-e', start, what, folder], { encoding: 'utf8' });
  return JSON.parse(out.trim().split('\n').at(-1) ?? '') as Pass;
}
