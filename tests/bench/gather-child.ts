import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gatherRecords } from '../../electron/services/gather-records.ts';
import { summariseFleet } from '../../shared-core/feedback/summarise-fleet.ts';

/**
 * One pass over a folder of records in a process of its own, for its time and its peak memory.
 *
 * @param args `gather` or `parse`, and the folder. Prints JSON: seconds, peak bytes, and what was counted.
 */
export async function main([what = '', folder = '']: readonly string[]): Promise<number> {
  const from = performance.now();
  const counted = what === 'gather' ? await gather(folder) : await parse(folder);
  const seconds = (performance.now() - from) / 1000;
  console.log(JSON.stringify({ seconds, peakBytes: peakBytes(), counted }));
  return 0;
}

/** Most memory that this process ever held. What the system counts for a child begins with its parent's. */
function peakBytes(): number {
  const status = existsSync('/proc/self/status') ? readFileSync('/proc/self/status', 'utf8') : '';
  const kilobytes = /VmHWM:\s*(\d+) kB/.exec(status)?.[1];
  return kilobytes === undefined ? process.resourceUsage().maxRSS * 1024 : Number(kilobytes) * 1024;
}

/** Every chain verified, and all of it counted. */
async function gather(folder: string): Promise<number> {
  const gathered = await gatherRecords([folder], folder, { kit: null, joints: new Map() });
  if (!gathered.ok) return 0;
  const { fleet, ...found } = gathered.value;
  return summariseFleet(fleet, found, null).counted;
}

/** What is compared with: each file read and parsed, and forgotten. */
async function parse(folder: string): Promise<number> {
  let records = 0;
  for (const name of readdirSync(folder)) {
    const value = JSON.parse(await readFile(join(folder, name), 'utf8')) as { readonly format?: string };
    if (value.format === 'kitwright-record/1') records += 1;
  }
  return records;
}
