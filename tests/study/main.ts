import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../run/child.mjs';
import { runBandsStudy } from './bands-report.ts';
import { runFaultsStudy } from './explain-report.ts';
import { runJourneysStudy } from './journeys-report.ts';
import { runReferenceStudy } from './reference/reference-report.ts';
import { runFitStudy } from './fit-report.ts';

/** What a study found: lines to print, everything as data, and whether each promise was kept. */
export interface StudyReport {
  readonly lines: readonly string[];
  readonly data: unknown;
  readonly isKept: boolean;
}

/** Every study, by name; each takes its share of the full size, 1 for all of it. */
const studies: Readonly<Record<string, (size: number) => Promise<StudyReport>>> = {
  bands: runBandsStudy,
  faults: (size) => runFaultsStudy(size),
  reference: runReferenceStudy,
  fit: runFitStudy,
  journeys: runJourneysStudy,
};

/**
 * Runs the studies named, or all, and writes their results into study-output; 1 where a promise was not kept.
 *
 * `--size 0.05` makes a twentieth of the builds, samples and stress cases.
 */
export async function main(args: readonly string[]): Promise<number> {
  const place = args.indexOf('--size');
  const size = place < 0 ? 1 : Number(args[place + 1]);
  const names = args.filter((_, index) => place < 0 || (index !== place && index !== place + 1));
  const unknown = names.filter((name) => !(name in studies));
  if (unknown.length > 0 || !(size > 0)) {
    console.error(`Usage: npm run study -- [${Object.keys(studies).join('|')}] [--size SHARE]`);
    return 2;
  }
  const folder = join(root, 'study-output');
  mkdirSync(folder, { recursive: true });
  let isKept = true;
  for (const [name, study] of Object.entries(studies)) {
    if (names.length > 0 && !names.includes(name)) continue;
    const report = await study(size);
    console.log(report.lines.join('\n'));
    writeFileSync(join(folder, `${name}.json`), `${JSON.stringify(report.data, null, 2)}\n`);
    writeFileSync(join(folder, `${name}.txt`), `${report.lines.join('\n')}\n`);
    isKept &&= report.isKept;
  }
  return isKept ? 0 : 1;
}
