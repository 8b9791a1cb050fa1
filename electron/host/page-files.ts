import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';

/** A file of the page. */
export interface PageFile {
  readonly bytes: Uint8Array;
  readonly type: string;
}

const types: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
  png: 'image/png',
  ico: 'image/x-icon',
  ttf: 'font/ttf',
  woff2: 'font/woff2',
  json: 'application/json; charset=utf-8',
  txt: 'text/plain; charset=utf-8',
};

/**
 * Reads the built page once: path as in a URL → file.
 *
 * Requests are looked up in this list and nowhere else, so no request ever becomes a path on the disk.
 */
export async function readPageFiles(folder: string): Promise<ReadonlyMap<string, PageFile>> {
  const files = new Map<string, PageFile>();
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const type = types[entry.name.slice(entry.name.lastIndexOf('.') + 1).toLowerCase()];
    if (type === undefined) continue;
    const url = path.slice(folder.length).replaceAll('\\', '/').replace(/^\/*/, '/');
    files.set(url, { bytes: await readFile(path), type });
  }
  const index = files.get('/index.html');
  if (index) files.set('/', index);
  const icon = files.get('/favicon.svg');
  if (icon && !files.has('/favicon.ico')) files.set('/favicon.ico', icon);
  return files;
}
