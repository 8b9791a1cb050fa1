import { spawn } from 'node:child_process';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The repository's root folder. */
export const root = fileURLToPath(new URL('../../', import.meta.url));

/**
 * What came of a command.
 *
 * @typedef {object} Outcome
 * @property {number} code Exit code; 127 where the command could not be started, 1 where a signal ended it.
 * @property {string} output Standard output and standard error, in the order they came.
 * @property {number} seconds How long it took, in seconds (s).
 */

/**
 * Run a command in the repository and wait for it.
 *
 * Commands of installed packages are found by their name alone.
 *
 * @param {string} command Program to run.
 * @param {readonly string[]} args Its arguments.
 * @param {{ env?: Readonly<Record<string, string>>, echo?: boolean, cwd?: string }} [options] Extra
 *   environment; `echo` passes the output on as it comes; `cwd` where it runs, else the root.
 * @returns {Promise<Outcome>} Never rejects.
 */
export function runCommand(command, args, { env = {}, echo = false, cwd = root } = {}) {
  const started = performance.now();
  const path = [join(root, 'node_modules/.bin'), process.env['PATH'] ?? ''].join(delimiter);
  return new Promise((resolve) => {
    let output = '';
    const finish = (/** @type {number} */ code) =>
      resolve({ code, output, seconds: (performance.now() - started) / 1000 });
    const child = spawn(command, args, {
      cwd,
      env: { ...process.env, PATH: path, ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
      // npm's commands are scripts on Windows, which only a shell can start.
      shell: process.platform === 'win32',
    });
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8').on('data', (text) => {
        output += text;
        if (echo) process.stdout.write(text);
      });
    }
    child.on('error', (error) => {
      output += `${command}: ${error.message}\n`;
      finish(127);
    });
    child.on('close', (code) => finish(code ?? 1));
  });
}
