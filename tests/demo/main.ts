/**
 * `npm run demo [-- FOLDER]`: an invented build of Heron, through the real services with a fake clock.
 *
 * Writes its record and PDF report, and tells the story with the energy state at each point.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import { dayOf, timeOf } from '../../shared-core/report/words.ts';
import { tellStory } from '../../shared-core/report/story.ts';
import type { StoryKind } from '../../shared-core/report/story-line.ts';
import { sha256 } from '../../electron/files/sha256.ts';
import { root } from '../run/child.mjs';
import { buildHeron } from './build-heron.ts';
import { Hand, mustHave } from './hand.ts';

/** What the told story leaves out: there are too many of them, and the report has them. */
const untold: ReadonlySet<StoryKind> = new Set<StoryKind>(['caution', 'look', 'reading', 'other']);

export async function main(args: readonly string[]): Promise<number> {
  const folder = args[0] ?? join(root, 'demo-output');
  const dataFolder = mkdtempSync(join(tmpdir(), 'kitwright-demo-'));
  const hand = new Hand(dataFolder, '2026-03-07T08:30:00.000Z');
  try {
    console.log(
      'An invented build of Heron. Every figure is invented: the prediction with a seeded deviation.\n',
    );
    await buildHeron(hand, join(root, 'kits/heron'));
    const { build } = hand.view.build;
    const record = await hand.blobs.record({ build });
    if (record === null) throw new Error('No record was made');
    const text = new TextDecoder().decode(record.bytes);
    const opened = mustHave(await hand.calls['record.open']({ text }));
    const pdf = await hand.blobs['record-report']({ text });
    if (pdf === null) throw new Error('No report was made');
    tell(text);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'heron.kitwright.json'), record.bytes);
    writeFileSync(join(folder, 'heron.pdf'), pdf.bytes);
    console.log(
      `\nThe record opens again: ${opened.build.seq} entries, flaws: ${opened.flaws.join(' ') || 'none'}.`,
    );
    console.log(
      `Written: ${join(folder, 'heron.kitwright.json')} and heron.pdf (${pdf.bytes.length} bytes).`,
    );
    return opened.flaws.length === 0 ? 0 : 1;
  } finally {
    await hand.close();
    rmSync(dataFolder, { recursive: true, force: true });
  }
}

function tell(text: string): void {
  const record = mustHave(readRecord(text, sha256));
  let day = '';
  for (const { at, kind, text: words, energy } of tellStory(record)) {
    if (untold.has(kind)) continue;
    if (dayOf(at) !== day) console.log(`\n${(day = dayOf(at))}`);
    const state = energy === 'live' ? 'LIVE' : energy;
    console.log(`  ${timeOf(at)}  ${state.padEnd(8)}  ${words}`);
  }
}
