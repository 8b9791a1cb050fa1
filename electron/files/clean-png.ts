import { promisify } from 'node:util';
import { inflate } from 'node:zlib';
import { bigEndian, exifOrientation, orientationExif } from './orientation.ts';
import type { Cleaned, Orientation } from './orientation.ts';

/** The eight bytes that every PNG begins with (W3C PNG, third edition, 5.2). */
export const pngSignature = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);

/** Samples to a pixel by colour type, and the bits that a sample may have (table 11.1). */
const colourTypes: Readonly<Record<number, { readonly samples: number; readonly bits: readonly number[] }>> =
  {
    0: { samples: 1, bits: [1, 2, 4, 8, 16] },
    2: { samples: 3, bits: [8, 16] },
    3: { samples: 1, bits: [1, 2, 4, 8] },
    4: { samples: 2, bits: [8, 16] },
    6: { samples: 4, bits: [8, 16] },
  };
/** The colour type whose samples are places in a palette. */
const withPalette = 3;

/** Most bytes that a picture may unfold to: 24 million pixels of red, green, blue and alpha. Our own figure. */
const mostUnfolded = 96_000_000;

interface Header {
  readonly width: number;
  readonly height: number;
  readonly colour: number;
  /** Bits to a pixel. */
  readonly depth: number;
  readonly interlaced: boolean;
}

interface Chunk {
  readonly type: string;
  readonly data: Uint8Array;
  /** The chunk with its length and check. */
  readonly whole: Uint8Array;
}

/**
 * A PNG with nothing in it but the picture: header, palette, transparency and data. Texts, times, EXIF, XMP, colour
 * profiles, further frames and whatever follows the end are left out; which way up it is shown is written anew.
 *
 * @returns The clean file, or what is wrong with it, in words.
 */
export async function cleanPng(bytes: Uint8Array): Promise<Cleaned> {
  const chunks = chunksOf(bytes);
  if (typeof chunks === 'string') return { ok: false, why: chunks };
  const [first] = chunks;
  const header = first?.type === 'IHDR' ? headerOf(first.data) : null;
  if (header === null) return { ok: false, why: 'its header is damaged' };
  const data = chunks.filter(({ type }) => type === 'IDAT');
  if (data.length === 0) return { ok: false, why: 'there is no picture in it' };
  const why = await dataFault(Buffer.concat(data.map((each) => each.data)), header);
  if (why !== null) return { ok: false, why };
  const orientation = pngOrientation(bytes);
  const palette = chunks.filter(({ type }) => type === 'PLTE').slice(0, 1);
  if (header.colour === withPalette && !isPalette(palette[0]?.data)) {
    return { ok: false, why: 'its palette is damaged' };
  }
  const clear = chunks.filter(({ type, data: own }) => type === 'tRNS' && isClear(own, header, palette[0]));
  const parts = [
    pngSignature,
    first?.whole ?? new Uint8Array(),
    ...(orientation === 1 ? [] : [exifChunk(orientation)]),
    ...[...palette, ...clear.slice(0, 1), ...data].map(({ whole }) => whole),
    chunkOf('IEND', new Uint8Array()),
  ];
  return { ok: true, bytes: Buffer.concat(parts), width: header.width, height: header.height };
}

/** Which way up a clean PNG is shown. */
export function pngOrientation(bytes: Uint8Array): Orientation {
  const chunks = chunksOf(bytes);
  const exif = typeof chunks === 'string' ? undefined : chunks.find(({ type }) => type === 'eXIf');
  return (exif && exifOrientation(exif.data)) ?? 1;
}

/** All chunks up to the end of the picture, or what is wrong. */
function chunksOf(bytes: Uint8Array): readonly Chunk[] | string {
  const chunks: Chunk[] = [];
  for (let at = pngSignature.length; ;) {
    const length = bigEndian(bytes, at, 4);
    if (length === null || at + length + 12 > bytes.length) return 'it is cut off';
    const named = bytes.subarray(at + 4, at + 8 + length);
    if (bigEndian(bytes, at + 8 + length, 4) !== crc32(named)) return 'it is damaged';
    const type = Buffer.from(named.subarray(0, 4)).toString('latin1');
    chunks.push({ type, data: named.subarray(4), whole: bytes.subarray(at, at + length + 12) });
    if (type === 'IEND') return chunks;
    at += length + 12;
  }
}

function headerOf(data: Uint8Array): Header | null {
  const [width, height] = [bigEndian(data, 0, 4) ?? 0, bigEndian(data, 4, 4) ?? 0];
  const [bits, colour, packing, filter, interlace] = data.subarray(8);
  const type = colourTypes[colour ?? -1];
  if (type === undefined || bits === undefined || !type.bits.includes(bits)) return null;
  if (data.length !== 13 || width === 0 || height === 0) return null;
  if (packing !== 0 || filter !== 0 || (interlace !== 0 && interlace !== 1)) return null;
  return { width, height, colour: colour ?? 0, depth: type.samples * bits, interlaced: interlace === 1 };
}

function isPalette(data: Uint8Array | undefined): boolean {
  return data !== undefined && data.length >= 3 && data.length <= 768 && data.length % 3 === 0;
}

/** Whether a transparency chunk fits its picture; one that does not is left out. */
function isClear(data: Uint8Array, { colour }: Header, palette: Chunk | undefined): boolean {
  if (colour === withPalette) return data.length >= 1 && data.length * 3 <= (palette?.data.length ?? 0);
  return data.length === { 0: 2, 2: 6 }[colour];
}

/** Unfolds the data, never further than the header says it goes; what is wrong, in words. */
async function dataFault(data: Uint8Array, header: Header): Promise<string | null> {
  const rows = rowsOf(header);
  const expected = rows.reduce((sum, { bytes, count }) => sum + bytes * count, 0);
  if (expected > mostUnfolded)
    return `it has ${header.width} × ${header.height} pixels, more than can be shown`;
  try {
    const unfolded = await promisify(inflate)(data, { maxOutputLength: expected });
    if (unfolded.length !== expected) return 'it is cut off';
    return hasKnownFilters(unfolded, rows) ? null : 'its picture data is damaged';
  } catch {
    return 'its picture data is damaged';
  }
}

/** The seven passes of an interlaced picture: first column and row, and the steps. */
const passes = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const;

interface Rows {
  /** Bytes of one row, with the byte for its filter. */
  readonly bytes: number;
  readonly count: number;
}

/** The rows of the data once it is unfolded. */
function rowsOf({ width, height, depth, interlaced }: Header): readonly Rows[] {
  const rows = (columns: number, count: number): Rows => ({
    bytes: columns <= 0 ? 0 : 1 + Math.ceil((columns * depth) / 8),
    count: Math.max(0, count),
  });
  if (!interlaced) return [rows(width, height)];
  return passes.map(([x, y, stepX, stepY]) =>
    rows(Math.ceil((width - x) / stepX), Math.ceil((height - y) / stepY)),
  );
}

/** Every row begins with one of the five filters (9.2). */
function hasKnownFilters(unfolded: Uint8Array, rows: readonly Rows[]): boolean {
  let at = 0;
  for (const { bytes, count } of rows) {
    if (bytes === 0) continue;
    for (let row = 0; row < count; row += 1, at += bytes) if ((unfolded[at] ?? 0) > 4) return false;
  }
  return true;
}

function exifChunk(orientation: Orientation): Uint8Array {
  return chunkOf('eXIf', orientationExif(orientation));
}

function chunkOf(type: string, data: Uint8Array): Uint8Array {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}

const crcTable = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value >>> 0;
});

/** The check of a chunk (W3C PNG, annex D). */
function crc32(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) value = (crcTable[(value ^ byte) & 0xff] ?? 0) ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}
