import { bigEndian, exifOrientation, orientationExif } from './orientation.ts';
import type { Cleaned, Orientation } from './orientation.ts';

/** Frames that every reader knows (ITU-T T.81, table B.1): baseline, extended sequential, progressive. */
const knownFrames: ReadonlySet<number> = new Set([0xc0, 0xc1, 0xc2]);
/** Frames of T.81 that are left out: lossless, hierarchical, arithmetic coding. */
const otherFrames: ReadonlySet<number> = new Set([
  0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf,
]);
/** What the picture itself is made of: tables of Huffman codes and quantisation, and the restart interval. */
const tables: ReadonlySet<number> = new Set([0xc4, 0xdb, 0xdd]);

const app0 = 0xe0;
const app1 = 0xe1;
const app14 = 0xee;
const startOfScan = 0xda;
const endOfImage = 0xd9;

/** Most scans of a progressive picture: a camera writes about ten; thousands would be made to keep a reader busy. */
const mostScans = 64;

/** Length of the Adobe segment's known part: it says how the colours are coded, and nothing of the camera. */
const adobeLength = 14;

/** A JFIF segment (ITU-T T.871) of 1 by 1 density without its thumbnail. */
const plainJfif = Uint8Array.of(0xff, app0, 0, 16, 0x4a, 0x46, 0x49, 0x46, 0, 1, 1, 0, 0, 1, 0, 1, 0, 0);

interface Reading {
  readonly bytes: Uint8Array;
  at: number;
  scans: number;
  size: { readonly width: number; readonly height: number } | null;
  orientation: Orientation;
  hasJfif: boolean;
  adobe: Uint8Array | null;
  readonly kept: Uint8Array[];
}

/**
 * A JPEG with nothing in it but the picture: EXIF, XMP, IPTC, colour profiles, comments, thumbnails, second pictures
 * and whatever follows the end are left out. The picture's own data stays byte for byte; which way up it is shown is
 * written anew.
 *
 * @returns The clean file, or what is wrong with it, in words.
 */
export function cleanJpeg(bytes: Uint8Array): Cleaned {
  const reading: Reading = {
    ...{ bytes, at: 2, scans: 0, size: null, orientation: 1, hasJfif: false, adobe: null, kept: [] },
  };
  for (;;) {
    const marker = nextMarker(reading);
    if (marker === null) return { ok: false, why: 'it is cut off' };
    if (marker === endOfImage) return finished(reading);
    const why = readSegment(reading, marker);
    if (why !== null) return { ok: false, why };
  }
}

function finished({ size, scans, orientation, hasJfif, adobe, kept }: Reading): Cleaned {
  if (size === null || scans === 0) return { ok: false, why: 'there is no picture in it' };
  const head = [
    ...(hasJfif ? [plainJfif] : []),
    ...(orientation === 1 ? [] : [exifSegment(orientation)]),
    ...(adobe === null ? [] : [adobe]),
  ];
  const parts = [Uint8Array.of(0xff, 0xd8), ...head, ...kept, Uint8Array.of(0xff, endOfImage)];
  return { ok: true, bytes: Buffer.concat(parts), ...size };
}

/** The marker at this place, past fill bytes; null at the end of the file or where none stands. */
function nextMarker(reading: Reading): number | null {
  const { bytes } = reading;
  if (bytes[reading.at] !== 0xff) return null;
  while (bytes[reading.at] === 0xff) reading.at += 1;
  const marker = bytes[reading.at];
  reading.at += 1;
  return marker ?? null;
}

/** Takes one segment in, or leaves it out; what is wrong with it, in words. */
function readSegment(reading: Reading, marker: number): string | null {
  const { bytes, at } = reading;
  const length = bigEndian(bytes, at, 2);
  if (length === null || length < 2 || at + length > bytes.length) return 'it is cut off';
  const body = bytes.subarray(at + 2, at + length);
  const whole = Buffer.concat([Uint8Array.of(0xff, marker), bytes.subarray(at, at + length)]);
  reading.at = at + length;
  if (knownFrames.has(marker)) {
    const why = readFrame(reading, body);
    if (why !== null) return why;
    reading.kept.push(whole);
  } else if (otherFrames.has(marker)) return 'it is a kind of JPEG that few programs can show';
  else if (tables.has(marker)) reading.kept.push(whole);
  else if (marker === startOfScan) {
    reading.kept.push(whole, scanData(reading));
    reading.scans += 1;
    if (reading.scans > mostScans) return `it has more than ${mostScans} scans`;
  } else if (marker === app0) reading.hasJfif ||= startsWith(body, 'JFIF\0');
  else if (marker === app1 && startsWith(body, 'Exif\0')) {
    reading.orientation = exifOrientation(body.subarray(6)) ?? reading.orientation;
  } else if (marker === app14 && startsWith(body, 'Adobe')) reading.adobe = adobeSegment(body);
  else if (marker < 0xe0 || (marker > 0xef && marker !== 0xfe)) return 'it is damaged';
  return null;
}

function readFrame(reading: Reading, body: Uint8Array): string | null {
  if (reading.size !== null) return 'it holds more than one picture';
  const [bits, components] = [body[0], body[5]];
  const height = bigEndian(body, 1, 2) ?? 0;
  const width = bigEndian(body, 3, 2) ?? 0;
  if (bits !== 8 || (components !== 1 && components !== 3)) {
    return 'its colours are not stored as grey or as red, green and blue of 8 bits';
  }
  if (width === 0 || height === 0) return 'it does not say how large it is';
  reading.size = { width, height };
  return null;
}

/** The coded data after a scan's head, up to the next marker; restart markers and stuffed zeros belong to it. */
function scanData(reading: Reading): Uint8Array {
  const { bytes } = reading;
  const from = reading.at;
  for (let at = from; ; at += 1) {
    const found = bytes.indexOf(0xff, at);
    const next = found === -1 ? undefined : bytes[found + 1];
    if (next === undefined) {
      reading.at = bytes.length;
      return bytes.subarray(from);
    }
    if (next === 0 || (next >= 0xd0 && next <= 0xd7)) at = found + 1;
    else if (next !== 0xff) {
      reading.at = found;
      return bytes.subarray(from, found);
    } else at = found;
  }
}

function adobeSegment(body: Uint8Array): Uint8Array | null {
  if (body.length < adobeLength - 2) return null;
  return Buffer.concat([Uint8Array.of(0xff, app14, 0, adobeLength), body.subarray(0, adobeLength - 2)]);
}

function exifSegment(orientation: Orientation): Uint8Array {
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), orientationExif(orientation)]);
  return Buffer.concat([Uint8Array.of(0xff, app1, 0, body.length + 2), body]);
}

function startsWith(body: Uint8Array, text: string): boolean {
  return Buffer.from(body.subarray(0, text.length)).toString('latin1') === text;
}
