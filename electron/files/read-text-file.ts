import { open } from 'node:fs/promises';
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
      return succeed(new TextDecoder('utf-8', { fatal: true }).decode(await file.readFile()));
    } finally {
      await file.close();
    }
  } catch (error) {
    if (!(error instanceof TypeError)) return fail(systemProblem(error, path));
    const message = `"${path}" is not UTF-8 text`;
    return fail({ code: 'file/not-text', severity: 'error', message, hint: 'Is it the right file?' });
  }
}
