import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';

/** Heron's kit file. */
export const heronFile = join(import.meta.dirname, '../../../kits/heron/kit.yaml');

/** Heron at 230 V, as it is in the repository. */
export const heronKit: ChosenKit = (() => {
  const read = readKit(readFileSync(heronFile, 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, { mains: '230 V 50 Hz' });
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
})();
