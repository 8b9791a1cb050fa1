import type { ActOutcome, Arguments } from '../../shared-core/contract/calls.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail } from '../../shared-core/problem/problem.ts';
import { cleanPhoto } from '../files/clean-photo.ts';
import type { CleanPhoto } from '../files/clean-photo.ts';
import { photoBytes } from '../files/photo-files.ts';
import type { BuildSession } from './build-session.ts';

/**
 * Most photos of a build, and what they may take up together, in bytes: a record with all of them is still one that
 * can be read (64 million characters, four of which hold three bytes). Our own figures.
 */
export const albumLimits = { photos: 200, bytes: 40_000_000 };

/** Keeps a photo with a build: cleaned, counted, on the disk, and only then in the journal. */
export async function addPhoto(
  session: BuildSession,
  { expectedSeq, photo, by }: Arguments<'photo.add'>,
): Promise<ActOutcome> {
  const clean = await cleanFor(session, Buffer.from(photo.base64, 'base64'));
  if (!clean.ok) return { kind: 'problem', problems: clean.problems };
  const { about, caption } = photo;
  return session.addPhoto(expectedSeq, clean.value, { about, caption: caption.trim(), by });
}

async function cleanFor({ build, parts }: BuildSession, bytes: Uint8Array): Promise<Result<CleanPhoto>> {
  if (build.photos.length >= albumLimits.photos) {
    return fail(tooMany(`This build has ${albumLimits.photos} photos already`));
  }
  const clean = await cleanPhoto(bytes);
  if (!clean.ok) return clean;
  if ((await photoBytes(parts.paths)) + clean.value.bytes.length > albumLimits.bytes) {
    return fail(tooMany(`The photos of this build take up ${albumLimits.bytes / 1e6} MB already`));
  }
  return clean;
}

function tooMany(message: string): KitProblem {
  const hint = 'A record holds no more. Write down in a note what this photo would show.';
  return { code: 'photo/too-many', severity: 'error', message, hint };
}
