/**
 * Which way up a picture is shown, as EXIF says it (tag 274): 1 as stored, 2 mirrored, 3 half a turn, 4 upside down
 * and mirrored, 5 to 8 the same with rows and columns exchanged.
 */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** A picture without anything beside it, or why there is none. */
export type Cleaned =
  | { readonly ok: true; readonly bytes: Uint8Array; readonly width: number; readonly height: number }
  | { readonly ok: false; readonly why: string };

/** A whole number of some bytes, the highest first; null past the end. */
export function bigEndian(bytes: Uint8Array, at: number, count: number): number | null {
  if (at < 0 || at + count > bytes.length) return null;
  let value = 0;
  for (let index = 0; index < count; index += 1) value = value * 256 + (bytes[at + index] ?? 0);
  return value;
}

/** Most entries of a directory that are looked through; a camera writes about twenty. */
const mostEntries = 200;

/**
 * The orientation in a block of EXIF (TIFF 6.0, section 2); null where it says none that is known.
 *
 * @param tiff The block from its byte order mark on.
 */
export function exifOrientation(tiff: Uint8Array): Orientation | null {
  const order = Buffer.from(tiff.subarray(0, 2)).toString('latin1');
  if (order !== 'II' && order !== 'MM') return null;
  const read = (at: number, count: number): number | null => {
    if (order === 'MM' || at + count > tiff.length || at < 0) return bigEndian(tiff, at, count);
    return bigEndian(tiff.slice(at, at + count).reverse(), 0, count);
  };
  if (read(2, 2) !== 42) return null;
  const directory = read(4, 4);
  const entries = directory === null ? null : read(directory, 2);
  if (directory === null || entries === null) return null;
  for (let index = 0; index < Math.min(entries, mostEntries); index += 1) {
    const at = directory + 2 + index * 12;
    if (read(at, 2) !== 274) continue;
    const value = read(at + 8, 2) ?? 0;
    return read(at + 2, 2) === 3 && value >= 1 && value <= 8 ? (value as Orientation) : null;
  }
  return null;
}

/** A block of EXIF that says the orientation and nothing else. */
export function orientationExif(orientation: Orientation): Uint8Array {
  // "MM", 42, directory at 8; one entry: tag 274, type SHORT, one of them, its value; no further directory.
  const head = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8];
  const entry = [0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0];
  return Uint8Array.from([...head, ...entry, 0, 0, 0, 0]);
}
