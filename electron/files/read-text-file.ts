import { open, type FileHandle } from 'node:fs/promises';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { systemProblem } from './kit-folder.ts';

/**
 * Reads a file of text that a person named.
 *
 * @param mostBytes Larger files are refused before they are read.
 */
export async function readTextFile(path: string, mostBytes: number): Promise<Result<string>> {
  try {
    const file = await open(path, 'r');
    try {
      const { size } = await file.stat();
      if (size > mostBytes) {
        const message = `"${path}" has ${Math.round(size / 1e6)} MB; at most ${Math.round(mostBytes / 1e6)} MB are read`;
        return fail({ code: 'file/too-big', severity: 'error', message });
      }
      return succeed(new TextDecoder('utf-8', { fatal: true }).decode(await readAll(file, size)));
    } finally {
      await file.close();
    }
  } catch (error) {
    if (!(error instanceof TypeError)) return fail(systemProblem(error, path));
    const message = `"${path}" is not UTF-8 text`;
    return fail({ code: 'file/not-text', severity: 'error', message, hint: 'Is it the right file?' });
  }
}

/** As many bytes as the file had when it was opened; fewer where it has shrunk since. */
async function readAll(file: FileHandle, size: number): Promise<Uint8Array> {
  const bytes = Buffer.allocUnsafe(size);
  let length = 0;
  while (length < size) {
    const { bytesRead } = await file.read(bytes, length, size - length);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return bytes.subarray(0, length);
}
