import { deflateSync, crc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { cleanPhoto, photoLimits } from '../../../electron/files/clean-photo.ts';
import { exifOrientation } from '../../../electron/files/orientation.ts';
import { exifBlock, plainJpeg, segment, withSegments } from '../../helpers/photo-bytes.ts';

const secret = 'taken at 51.5 N by K. M.';

async function cleaned(bytes: Uint8Array): Promise<Buffer> {
  const photo = await cleanPhoto(bytes);
  if (!photo.ok) throw new Error(photo.problems[0].message);
  return Buffer.from(photo.value.bytes);
}

async function refusal(bytes: Uint8Array): Promise<string> {
  const photo = await cleanPhoto(bytes);
  return photo.ok ? 'taken' : `${photo.problems[0].code} ${photo.problems[0].message}`;
}

function chunk(type: string, data: Uint8Array): Uint8Array {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const ends = Buffer.alloc(8);
  ends.writeUInt32BE(data.length);
  ends.writeUInt32BE(crc32(named), 4);
  return Buffer.concat([ends.subarray(0, 4), named, ends.subarray(4)]);
}

/** A PNG of 8-bit grey, `width` by `height`, with other chunks before its data. */
function png(width: number, height: number, rows: Uint8Array, ...others: readonly Uint8Array[]): Uint8Array {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width);
  header.writeUInt32BE(height, 4);
  header.set([8, 0, 0, 0, 0], 8);
  const signature = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10);
  const data = chunk('IDAT', deflateSync(rows));
  return Buffer.concat([signature, chunk('IHDR', header), ...others, data, chunk('IEND', new Uint8Array())]);
}

/** Two rows of two grey pixels, each with its filter byte. */
const grey = Uint8Array.of(0, 10, 20, 0, 30, 40);

describe('a JPEG', () => {
  it('keeps its picture byte for byte and loses everything beside it', async () => {
    const clean = await cleaned(withSegments(plainJpeg, { orientation: 1, text: secret }));
    expect(clean.includes(secret)).toBe(false);
    expect(clean.includes('Exif')).toBe(false);
    // From the first table on, the file is the one that was given.
    const from = (bytes: Uint8Array): Buffer => {
      const whole = Buffer.from(bytes);
      return whole.subarray(whole.indexOf(Buffer.of(0xff, 0xdb)));
    };
    expect(from(clean).equals(from(plainJpeg))).toBe(true);
  });

  it('is still shown the same way up', async () => {
    for (const orientation of [2, 3, 4, 5, 6, 7, 8]) {
      const clean = await cleaned(withSegments(plainJpeg, { orientation, text: secret }));
      const at = clean.indexOf('Exif\0\0', 0, 'latin1');
      expect(exifOrientation(clean.subarray(at + 6))).toBe(orientation);
      expect(clean.includes('CAM')).toBe(false);
    }
  });

  it('is the same when it is cleaned again', async () => {
    const once = await cleaned(withSegments(plainJpeg, { orientation: 6, text: secret }));
    expect((await cleaned(once)).equals(once)).toBe(true);
  });

  it('is refused wherever it is cut off, or changed into nonsense', async () => {
    for (let length = 3; length < plainJpeg.length - 1; length += 7) {
      expect(await refusal(plainJpeg.subarray(0, length))).toMatch(
        /^photo\/refused This photo is not taken: /,
      );
    }
    const second = Buffer.concat([
      plainJpeg.subarray(0, 2),
      segment(0xcf, new Uint8Array(9)),
      plainJpeg.subarray(2),
    ]);
    expect(await refusal(second)).toContain('few programs can show');
    const huge = Buffer.from(plainJpeg);
    huge.writeUInt32BE(0xffffffff, huge.indexOf(Buffer.of(0xff, 0xc0)) + 5);
    expect(await refusal(huge)).toContain('65535 × 65535 pixels');
  });
});

describe('a PNG', () => {
  it('keeps its picture and loses text, time, EXIF and what follows the end', async () => {
    const text = chunk('tEXt', Buffer.from(`Comment\0${secret}`));
    const exif = chunk('eXIf', Buffer.concat([exifBlock(6), Buffer.from(secret)]));
    const given = Buffer.concat([png(2, 2, grey, text, exif), Buffer.from(secret)]);
    const clean = await cleaned(given);
    expect(clean.includes(secret)).toBe(false);
    expect(clean.includes(Buffer.from(chunk('IDAT', deflateSync(grey))))).toBe(true);
    expect(exifOrientation(clean.subarray(clean.indexOf('eXIf') + 4))).toBe(6);
    expect((await cleaned(clean)).equals(clean)).toBe(true);
  });

  it('is refused when it is damaged, cut off, or unfolds to more than it says', async () => {
    const whole = png(2, 2, grey);
    const changed = Buffer.from(whole);
    changed[20] = 9;
    expect(await refusal(changed)).toContain('it is damaged');
    expect(await refusal(whole.subarray(0, 50))).toContain('it is cut off');
    expect(await refusal(png(2, 2, new Uint8Array(50_000_000)))).toContain('picture data is damaged');
    expect(await refusal(png(2, 3, grey))).toContain('it is cut off');
    expect(await refusal(png(2, 2, Uint8Array.of(9, 1, 1, 0, 1, 1)))).toContain('picture data is damaged');
    expect(await refusal(png(60_000, 60_000, grey))).toContain('more than can be shown');
  });
});

describe('other files', () => {
  it('are refused by what is in them, not by their names', async () => {
    for (const text of ['<svg onload="x()"/>', 'GIF89a', '%PDF-1.7', '', 'RIFF....WEBP'])
      expect(await refusal(Buffer.from(text))).toContain('it is not a JPEG or PNG picture');
    expect(await refusal(new Uint8Array(photoLimits.bytes + 1))).toContain('at most 6 MB');
  });
});
