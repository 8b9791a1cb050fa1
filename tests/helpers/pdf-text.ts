import { execFileSync } from 'node:child_process';

/** Runs a program that reads PDF files, and gives what it prints. */
export function readPdfWith(program: string, ...args: readonly string[]): string {
  return execFileSync(program, args, { encoding: 'utf8', maxBuffer: 2 ** 26 });
}
