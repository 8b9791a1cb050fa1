/** A JPEG of 160 by 100 pixels, red above and blue below, with nothing in it but the picture. */
export const plainJpeg: Uint8Array = Buffer.from(
  [
    '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxO',
    'UlNSMj5aYVpQYEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09P',
    'T09PT09PT0//wAARCABkAKADASIAAhEBAxEB/8QAFgABAQEAAAAAAAAAAAAAAAAAAAIG/8QAFRABAQAAAAAAAAAAAAAAAAAAABH/',
    'xAAXAQEBAQEAAAAAAAAAAAAAAAAABAUH/8QAFREBAQAAAAAAAAAAAAAAAAAAABP/2gAMAwEAAhEDEQA/AM9SppWdN0KiqVNKTKKp',
    'U0pMoqlTSkyiqVNKTKKpU0pMoqlTSkyiqVNKTKKpU0pMoqlTSkyiKVNKvmioqlTSkyiqVNKTKKpU0pMoqlTSkyiqVNKTKKpU0pMo',
    'qlTSkyiqVNKTKKpU0pMomlRStCaGi6VFKTKLpUUpMoulRSkyi6VFKTKLpUUpMoulRSkyi6VFKTKLpUUpMoulRSkyiaVNK0JoaKpU',
    '0pMoqlTSkyiqVNKTKKpU0pMoqlTSkyiqVNKTKKpU0pMoqlTSkyiqVNKTKIpU0rQmioqlTSkyiqVNKTKKpU0pMoqlTSkyiqVNKTKK',
    'pU0pMoqlTSkyiqVNKTKKpU0pMomlRStCaGi6VFKTKLpUUpMoulRSkyi6VFKTKLpUUpMoulRSkyi6VFKTKLpUUpMoulRSkyiQFSYA',
    'AAAAAAAAAAAAAAAAB//Z',
  ].join(''),
  'base64',
);

/** A segment of a JPEG (ITU-T T.81, B.1.1.4): its marker, its length, its content. */
export function segment(marker: number, content: Uint8Array): Uint8Array {
  const length = Buffer.alloc(2);
  length.writeUInt16BE(content.length + 2);
  return Buffer.concat([Uint8Array.of(0xff, marker), length, content]);
}

/** EXIF (TIFF 6.0, Intel order) with a maker's name and an orientation. */
export function exifBlock(orientation: number): Uint8Array {
  const block = Buffer.alloc(38);
  block.write('II*\0', 'latin1');
  block.writeUInt32LE(8, 4);
  block.writeUInt16LE(2, 8);
  block.writeUInt16LE(271, 10);
  block.writeUInt16LE(2, 12);
  block.writeUInt32LE(4, 14);
  block.write('CAM\0', 18, 'latin1');
  block.writeUInt16LE(274, 22);
  block.writeUInt16LE(3, 24);
  block.writeUInt32LE(1, 26);
  block.writeUInt16LE(orientation, 30);
  return block;
}

/** The same picture with everything that a camera and a program write beside it, and more after its end. */
export function withSegments(
  jpeg: Uint8Array,
  { orientation, text }: { readonly orientation: number; readonly text: string },
): Uint8Array {
  const exif = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), exifBlock(orientation), Buffer.from(text)]);
  return Buffer.concat([
    jpeg.subarray(0, 2),
    segment(0xe1, exif),
    segment(0xe1, Buffer.from(`http://ns.adobe.com/xap/1.0/\0<x>${text}</x>`, 'latin1')),
    segment(0xe2, Buffer.from(`ICC_PROFILE\0\x01\x01${text}`, 'latin1')),
    segment(0xed, Buffer.from(`Photoshop 3.0\0${text}`, 'latin1')),
    segment(0xfe, Buffer.from(text)),
    jpeg.subarray(2),
    Buffer.from(text),
  ]);
}
