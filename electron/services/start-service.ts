import type { BuildView } from '../../shared-core/contract/calls.ts';
import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { sha256 } from '../files/sha256.ts';
import { openCheckedKit, openKit } from './open-kit.ts';
import type { ServiceContext } from './service-context.ts';

/**
 * Begins the service of an amplifier from its old record: draining, time unknown, like any assembled amplifier.
 *
 * Nothing of the record is taken for proven: its readings are written down as those of day one, to be compared with.
 * The kit is the very one that the record names, found among those on the shelf.
 */
export async function startService(context: ServiceContext, text: string): Promise<Result<BuildView>> {
  const read = readRecord(text, sha256);
  if (!read.ok) return read;
  const record = read.value;
  const path = await findKit(context, record.build.kitHash);
  if (path === null) return fail(noKit(record));
  const kit = await openCheckedKit(path);
  if (!kit.ok) return kit;
  const chosen = chooseKit(kit.value.kit, record.build.choices);
  if (!chosen.ok) return chosen;
  const { choices } = chosen.value;
  const session = await context.shelf.start(kit.value, choices, 'old record', context.version);
  if (!session.ok) return session;
  const problems = await session.value.note(dayOneOf(record));
  return problems === null ? succeed(session.value.view()) : { ok: false, problems };
}

/** What every reading showed last when the amplifier was built, or serviced before. */
function dayOneOf({ build, seal }: BuildRecord) {
  const readings = Object.entries(build.readings).flatMap(([id, { entries }]) => {
    const last = entries.at(-1);
    return last === undefined ? [] : [[id, last.entry] as const];
  });
  const at = build.signature?.at ?? build.lastAt;
  return {
    kind: 'day-one-taken',
    by: 'hand',
    record: seal,
    at,
    readings: Object.fromEntries(readings),
  } as const;
}

async function findKit({ kitFolders, settings }: ServiceContext, hash: string): Promise<string | null> {
  for (const path of new Set([...kitFolders, ...settings.get().shelf])) {
    const kit = await openKit(path);
    if (kit.ok && kit.value.folder.hash === hash) return path;
  }
  return null;
}

function noKit({ kit, build }: BuildRecord): KitProblem {
  return {
    code: 'build/kit-copy',
    severity: 'error',
    message: `The kit of this record is not on the shelf: ${kit.name}, revision ${build.revision}, ${build.kitHash.slice(0, 12)}`,
    hint: 'Open the kit’s folder of that revision first, then the record again.',
  };
}
