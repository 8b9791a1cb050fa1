import { spawn } from 'node:child_process';
import type { FaceFacts } from './choose-face.ts';

/** How long a download may take before the browser is opened instead, in milliseconds (ms). */
export const fetchPatienceMs = 180_000;

/** Whether it is worth asking for Electron's runtime: a window is wanted, possible, and only that is missing. */
export function isWorthFetching(facts: FaceFacts): boolean {
  const { wantsBrowser, wantsNothingOpened, hasDisplay, hasWindowProgram, isRoot, runtime } = facts;
  return (
    !wantsBrowser && !wantsNothingOpened && hasDisplay && hasWindowProgram && !isRoot && runtime === null
  );
}

/**
 * Runs the installer that comes with the `electron` package.
 *
 * @param installer Path of the script.
 * @param patienceMs After this it is given up, in milliseconds (ms).
 * @returns Whether it ended well in time; what it fetched is looked for afterwards by the caller.
 */
export function fetchRuntime(installer: string, patienceMs: number): Promise<boolean> {
  const child = spawn(process.execPath, [installer], { stdio: 'ignore' });
  return new Promise((done) => {
    const timer = setTimeout(() => child.kill('SIGKILL'), patienceMs);
    const end = (isWell: boolean): void => {
      clearTimeout(timer);
      done(isWell);
    };
    child.on('error', () => end(false));
    child.on('close', (code) => end(code === 0));
  });
}
