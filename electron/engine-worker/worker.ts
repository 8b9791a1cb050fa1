import { parentPort } from 'node:worker_threads';
import { doJob } from './jobs.ts';
import type { JobKind, Jobs } from './jobs.ts';

/** What the host sends to the engine's thread. */
export interface WorkerOrder {
  readonly id: number;
  readonly kind: JobKind;
  readonly needs: Jobs[JobKind]['needs'];
}

/** What comes back. */
export type WorkerAnswer =
  | { readonly id: number; readonly gives: Jobs[JobKind]['gives'] }
  | { readonly id: number; readonly error: string };

parentPort?.on('message', ({ id, kind, needs }: WorkerOrder) => {
  parentPort?.postMessage(answer(id, kind, needs));
});

function answer(id: number, kind: JobKind, needs: Jobs[JobKind]['needs']): WorkerAnswer {
  try {
    return { id, gives: doJob(kind, needs as never) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}
