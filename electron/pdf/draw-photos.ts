import type { ReportPhoto } from '../../shared-core/report/report-document.ts';
import { pngOrientation } from '../files/clean-png.ts';
import { types } from './faces.ts';
import { page, textWidth } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { DrawnPhoto, Picture, Sheet } from './sheet.ts';

const between = 14;
const columnWidth = (textWidth - between) / 2;

/** Highest that a photo is printed, in points: three rows to a page. */
const mostHeight = 230;

interface SetPhoto extends DrawnPhoto {
  readonly width: number;
  readonly height: number;
  readonly caption: readonly string[];
}

/** Photos two to a row, each in its own shape, its caption below it. */
export function drawPhotos(sheet: Sheet, section: Struct, photos: readonly ReportPhoto[]): void {
  const set = photos.map((photo) => setPhoto(sheet, photo));
  for (let start = 0; start < set.length; start += 2) {
    const row = set.slice(start, start + 2);
    const drawn = Math.max(...row.map(({ height }) => height));
    const most = Math.max(...row.map(({ caption }) => caption.length));
    sheet.need(drawn + most * types.quiet.leading + 8);
    const top = sheet.y;
    row.forEach((photo, index) =>
      drawPhoto(sheet, section, photo, page.left + index * (columnWidth + between), top, drawn),
    );
    sheet.y = top + drawn + most * types.quiet.leading + 12;
  }
  sheet.y += 2;
}

/** What a row of photos wants to have under its heading, in points. */
export const leastPhotoRoom = mostHeight + 30;

function setPhoto(sheet: Sheet, { file, base64, title, caption }: ReportPhoto): SetPhoto {
  const picture = openPicture(sheet, Buffer.from(base64, 'base64'));
  // Rows and columns are exchanged from 5 on; pdfkit turns the picture itself.
  const isTurned = (picture.orientation ?? 1) > 4;
  const [wide, high] = isTurned ? [picture.height, picture.width] : [picture.width, picture.height];
  const scale = Math.min(columnWidth / wide, mostHeight / high);
  const lines = sheet.lines(caption, types.quiet, columnWidth);
  return { file, title, picture, width: wide * scale, height: high * scale, caption: lines };
}

function openPicture(sheet: Sheet, bytes: Uint8Array): Picture {
  const opener = sheet.pdf as unknown as { readonly openImage: (bytes: Uint8Array) => Picture };
  const picture = opener.openImage(bytes);
  // pdfkit looks for it in JPEG only, and turns both.
  picture.orientation ??= pngOrientation(bytes);
  return picture;
}

function drawPhoto(
  sheet: Sheet,
  section: Struct,
  photo: SetPhoto,
  x: number,
  top: number,
  room: number,
): void {
  const { width, height, title, caption } = photo;
  const options = { alt: title, bbox: [x, top, x + width, top + height], placement: 'Block' };
  section.add(
    sheet.pdf.struct('Figure', options as PDFKit.Mixins.StructureElementOptions, () =>
      sheet.photo(photo, { x, y: top, width, height }),
    ),
  );
  section.add(
    sheet.pdf.struct('Caption', {}, () =>
      caption.forEach((line, index) =>
        sheet.write(line, x, top + room + 3 + index * types.quiet.leading, types.quiet),
      ),
    ),
  );
}
