/**
 * Check who imports whom. Prints each broken rule; exit code 1 on any, and when nothing was looked at.
 */
import { root } from './child.mjs';
import { checkArchitecture } from './check-architecture.mjs';

const { cruised, violations } = await checkArchitecture(root);
for (const { rule, from, to } of violations) console.log(`${rule}: ${from} imports ${to}`);
console.log(`architecture: ${cruised} modules, ${violations.length} broken rules`);
if (cruised === 0) console.log('No module was looked at, so nothing was shown: see .dependency-cruiser.mjs.');
process.exitCode = cruised > 0 && violations.length === 0 ? 0 : 1;
