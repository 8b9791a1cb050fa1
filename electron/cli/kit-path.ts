import { relative, resolve } from 'node:path';
import type { CommandIo } from './command.ts';

/** A path as the terminal's folder sees it, where that is shorter. */
export function kitPathAsGiven(path: string, { cwd }: Pick<CommandIo, 'cwd'>): string {
  const near = relative(cwd, resolve(cwd, path));
  return near === '' || near.startsWith('..') ? path : near;
}
