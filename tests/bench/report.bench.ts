import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildHeron } from '../demo/build-heron.ts';
import { Hand, mustHave } from '../demo/hand.ts';
import { root } from '../run/child.mjs';
import type { BenchLine } from './main.ts';

const repeats = 5;

/** The PDF of the demo's whole build, and opening its record with every link of the chain checked. */
export async function reportBench(): Promise<readonly BenchLine[]> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'kitwright-bench-'));
  const hand = new Hand(dataFolder, '2026-03-07T08:30:00.000Z');
  try {
    await buildHeron(hand, join(root, 'kits/heron'));
    const record = await hand.blobs.record({ build: hand.view.build.build });
    const text = new TextDecoder().decode(record?.bytes);
    const opened = mustHave(await hand.calls['record.open']({ text }));
    const pdf = (): Promise<unknown> => hand.blobs['record-report']({ text });
    return [
      {
        what: `opening a record of ${opened.build.seq} entries`,
        value: await time(() => hand.calls['record.open']({ text })),
        unit: 'ms',
      },
      { what: 'PDF report of it', value: await time(pdf), unit: 'ms' },
    ];
  } finally {
    await hand.close();
    rmSync(dataFolder, { recursive: true, force: true });
  }
}

/** Median of a few runs after a first one, in milliseconds (ms). */
async function time(run: () => Promise<unknown>): Promise<number> {
  await run();
  const spent: number[] = [];
  for (let index = 0; index < repeats; index++) {
    const from = performance.now();
    await run();
    spent.push(performance.now() - from);
  }
  return spent.sort((a, b) => a - b)[Math.floor(repeats / 2)] ?? Number.NaN;
}
