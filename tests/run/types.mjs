/**
 * Type-check every folder, two compilers at a time. Exit code 1 when one of them finds something.
 *
 * Each folder has its own compiler settings, so that the core sees neither Node nor a page. The compilers
 * keep what they learnt under build/types; deleting that is always safe.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { root, runCommand } from './child.mjs';
import { runPool } from './pool.mjs';

// Largest first, so that the two cores finish together.
const folders = ['tests', 'electron', 'renderer', 'shared-core'];
const kept = join(root, 'build/types');
mkdirSync(kept, { recursive: true });

const outcomes = await runPool(2, folders, (folder) =>
  runCommand('tsc', [
    '-p',
    folder,
    '--incremental',
    '--tsBuildInfoFile',
    join(kept, `${folder}.tsbuildinfo`),
    '--pretty',
    'false',
  ]),
);

for (const [index, outcome] of outcomes.entries()) {
  console.log(
    `types ${folders[index]}: ${outcome.code === 0 ? 'fine' : 'FAILED'}, ${outcome.seconds.toFixed(1)} s`,
  );
}
// The same error in a shared file is found by several compilers: print it once.
const lines = new Set(
  outcomes.flatMap((outcome) => outcome.output.split('\n')).filter((line) => line !== ''),
);
if (lines.size > 0) console.log([...lines].join('\n'));
process.exitCode = outcomes.some((outcome) => outcome.code !== 0) ? 1 : 0;
