import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { cruise } from 'dependency-cruiser';

/** @typedef {{ rule: string, from: string, to: string }} Violation An import that a rule forbids. */

/**
 * Look at every import of the product and compare it with `.dependency-cruiser.mjs`.
 *
 * @param {string} folder Folder that holds shared-core, electron and renderer, and a `.dependency-cruiser.mjs`.
 * @returns {Promise<{ cruised: number, violations: Violation[] }>} How many modules were looked at, and
 *   what was found. Zero modules prove nothing: the caller must refuse them.
 */
export async function checkArchitecture(folder) {
  const { default: config } = await import(pathToFileURL(join(folder, '.dependency-cruiser.mjs')).href);
  const { forbidden, options } = config;
  const present = ['shared-core', 'electron', 'renderer'].filter((name) => existsSync(join(folder, name)));
  const { output } = await cruise(
    present,
    {
      ...options,
      baseDir: folder,
      validate: true,
      ruleSet: { forbidden },
    },
    options.enhancedResolveOptions,
  );
  if (typeof output === 'string')
    throw new Error(`dependency-cruiser said nothing that can be read: ${output}`);
  const { totalCruised, violations } = output.summary;
  return {
    cruised: totalCruised,
    violations: violations.map(({ rule, from, to }) => ({ rule: rule.name, from, to })),
  };
}
