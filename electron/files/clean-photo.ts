import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { cleanJpeg } from './clean-jpeg.ts';
import { cleanPng, pngSignature } from './clean-png.ts';

/** A photo as it is kept: the picture and nothing beside it. */
export interface CleanPhoto {
  readonly bytes: Uint8Array;
  readonly ending: 'jpg' | 'png';
}

/** Caps on one photo. The screen makes larger ones smaller before it sends them. Our own figures. */
export const photoLimits = { bytes: 6_000_000, pixels: 50_000_000 };

/**
 * Reads a photo from a stranger: takes a JPEG or a PNG apart, and puts together only what shows the picture.
 *
 * What kind of file it is, the bytes say, never its name.
 */
export async function cleanPhoto(bytes: Uint8Array): Promise<Result<CleanPhoto>> {
  if (bytes.length > photoLimits.bytes) {
    const size = `${(bytes.length / 1e6).toFixed(1)} MB`;
    return fail(refused(`it has ${size}; at most ${photoLimits.bytes / 1e6} MB are kept`, smaller));
  }
  const ending = kindOf(bytes);
  if (ending === null) return fail(refused('it is not a JPEG or PNG picture', another));
  const cleaned = ending === 'jpg' ? cleanJpeg(bytes) : await cleanPng(bytes);
  if (!cleaned.ok) return fail(refused(cleaned.why, another));
  const { width, height } = cleaned;
  if (width * height > photoLimits.pixels) {
    return fail(refused(`it has ${width} × ${height} pixels, more than can be shown`, smaller));
  }
  return succeed({ bytes: cleaned.bytes, ending });
}

function kindOf(bytes: Uint8Array): CleanPhoto['ending'] | null {
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpg';
  return pngSignature.every((each, index) => bytes[index] === each) ? 'png' : null;
}

const another = 'Take the photo again, or save it as JPEG in a picture program, and choose that file.';
const smaller = 'Make it smaller in a picture program, and choose that file.';

function refused(why: string, hint: string): KitProblem {
  return { code: 'photo/refused', severity: 'error', message: `This photo is not taken: ${why}`, hint };
}
