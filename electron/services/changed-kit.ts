import { compareKits } from '../../shared-core/journal/kit-difference.ts';
import type { KitDifference } from '../../shared-core/journal/kit-difference.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Choices } from '../../shared-core/kit/kit.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { SafetyState } from '../../shared-core/safety/energy-state.ts';
import { changedKitPath } from '../files/build-folder.ts';
import type { BuildPaths } from '../files/build-folder.ts';
import { readKitFolder } from '../files/kit-folder.ts';
import { openCheckedKit, openKit } from './open-kit.ts';
import type { KitOnDisk } from './open-kit.ts';

/** A kit with the choices of a build. */
export interface BuildKit {
  readonly kit: KitOnDisk;
  readonly chosen: ChosenKit;
}

/** The kit's own folder as it is now, where it differs from what a build goes by. */
export interface OfferedKit {
  /** The changed kit; null where it is gone, wrong, or has no such choices any more. */
  readonly changed: BuildKit | null;
  readonly notices: readonly KitProblem[];
}

/** A changed kit that was accepted for a build; its hash has to be the one in the journal. */
export async function openChangedKit(
  paths: BuildPaths,
  kitHash: string,
  choices: Choices,
): Promise<Result<BuildKit>> {
  const path = changedKitPath(paths, kitHash);
  const kit = path === null ? null : await openKit(path);
  if (kit !== null && !kit.ok) return kit;
  if (path === null || kit?.value.folder.hash !== kitHash) return fail(otherCopy(path ?? paths.folder));
  const chosen = chooseKit(kit.value.kit, choices);
  return chosen.ok ? succeed({ kit: kit.value, chosen: chosen.value }) : chosen;
}

/** Looks whether the kit's own folder still is what the build goes by. */
export async function offerKit(kitPath: string, kitHash: string, choices: Choices): Promise<OfferedKit> {
  const folder = await readKitFolder(kitPath);
  const hint = 'This build goes on with the kit that it goes by.';
  if (!folder.ok) {
    const message = `The kit is no longer in "${kitPath}"`;
    return { changed: null, notices: [{ code: 'build/kit-gone', severity: 'warning', message, hint }] };
  }
  if (folder.value.hash === kitHash) return { changed: null, notices: [] };
  const message = `The kit in "${kitPath}" has changed since this build took it`;
  const notice: KitProblem = { code: 'build/kit-changed', severity: 'warning', message, hint };
  const kit = await openCheckedKit(kitPath);
  if (!kit.ok) return { changed: null, notices: [notice, ...kit.problems] };
  const chosen = chooseKit(kit.value.kit, choices);
  if (!chosen.ok) return { changed: null, notices: [notice, ...chosen.problems] };
  return { changed: { kit: kit.value, chosen: chosen.value }, notices: [notice] };
}

/** What an offered kit changes in a build as it stands now; null where none is offered. */
export function differenceOf(
  before: ChosenKit,
  changed: BuildKit | null,
  safety: SafetyState,
): KitDifference | null {
  if (changed === null) return null;
  return compareKits(before, changed.chosen, changed.kit.folder.hash, safety);
}

function otherCopy(file: string): KitProblem {
  return {
    code: 'build/kit-copy',
    severity: 'error',
    message: 'The copy of the changed kit that is kept with this build was changed, or is gone',
    file,
    hint: 'Treat the amplifier as live. Put the files back as they were, or start the build anew as assembled.',
  };
}
