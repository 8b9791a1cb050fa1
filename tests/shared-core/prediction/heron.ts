import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import type { Choices } from '../../../shared-core/kit/kit.ts';
import { readKitFile } from '../../../shared-core/kit/read-kit.ts';
import type { KitSource } from '../../../shared-core/kit/source.ts';
import { root } from '../../run/child.mjs';

/** Heron as its kit file has it, with options chosen. */
export function chooseHeron(choices: Choices = {}): {
  readonly chosen: ChosenKit;
  readonly source: KitSource;
} {
  return chooseOwn('heron', choices);
}

/** One of the project's own kits, with options chosen. */
export function chooseOwn(
  id: 'heron' | 'wren' | 'curlew',
  choices: Choices = {},
): { readonly chosen: ChosenKit; readonly source: KitSource } {
  const path = join(root, `kits/${id}/kit.yaml`);
  const read = readKitFile(readFileSync(path, 'utf8'), path);
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value.kit, choices);
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return { chosen: chosen.value, source: read.value.source };
}

/** Nothing fitted but what the kit says. */
export const asStated = { measured: {}, valves: {} };
