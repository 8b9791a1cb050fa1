/** Longest side of a photo that is kept, in pixels: sharp over the width of a page. Our own figure. */
const longestSide = 2000;
/** A file that is smaller goes as it is, in bytes. */
const smallEnough = 1_500_000;

/** The kinds of picture that the host takes as they are. */
const taken: ReadonlySet<string> = new Set(['image/jpeg', 'image/png']);

/**
 * A picture file as base64, made smaller where it is large, and a JPEG where it is of another kind.
 *
 * What cannot be read here goes to the host as it is: the host says what is wrong with it.
 */
export async function shrinkPhoto(file: Blob): Promise<string> {
  const picture = await readPicture(file);
  if (picture === null) return base64Of(file);
  const scale = Math.min(1, longestSide / Math.max(picture.width, picture.height));
  const isFine = taken.has(file.type) && scale === 1 && file.size <= smallEnough;
  const smaller = isFine ? null : await redraw(picture, scale);
  picture.close();
  return base64Of(smaller ?? file);
}

/** The picture the right way up; null where the browser cannot read it. */
async function readPicture(file: Blob): Promise<ImageBitmap | null> {
  if (typeof createImageBitmap !== 'function') return null;
  return createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => null);
}

function redraw(picture: ImageBitmap, scale: number): Promise<Blob | null> {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext('2d');
  if (pen === null) return Promise.resolve(null);
  // What is clear becomes paper, not black.
  pen.fillStyle = '#ffffff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85));
}

function base64Of(file: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () =>
      resolve(typeof reader.result === 'string' ? reader.result.replace(/^data:[^,]*,/, '') : '');
    reader.onerror = () => reject(new Error('The file cannot be read.'));
    reader.readAsDataURL(file);
  });
}
