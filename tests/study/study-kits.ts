import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { readKitFile } from '../../shared-core/kit/read-kit.ts';
import { root } from '../run/child.mjs';

/** A kit of the project as its file has it, with its first choices. */
export function chooseStudyKit(id: string): ChosenKit {
  const path = join(root, `kits/${id}/kit.yaml`);
  const read = readKitFile(readFileSync(path, 'utf8'), path);
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value.kit);
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
}
