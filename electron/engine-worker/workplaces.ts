import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { doJob } from './jobs.ts';
import type { Workplace } from './engine.ts';
import type { WorkerAnswer, WorkerOrder } from './worker.ts';

/** A workplace in a thread of its own where the app is built; else here, as in unit tests. */
export function openWorkplace(): Workplace {
  const url = new URL('./engine-worker.js', import.meta.url);
  return url.protocol === 'file:' && existsSync(fileURLToPath(url)) ? threadWorkplace(url) : localWorkplace;
}

/** Works in the calling thread. */
export const localWorkplace: Workplace = {
  work: (kind, needs) =>
    new Promise((resolve, reject) => {
      try {
        resolve(doJob(kind, needs));
      } catch (error) {
        reject(error instanceof Error ? error : new Error(String(error)));
      }
    }),
  close: () => Promise.resolve(),
};

interface Pending {
  readonly resolve: (value: never) => void;
  readonly reject: (error: Error) => void;
}

/** Works in a worker thread, which is started with the first job, and again after a breakdown. */
export function threadWorkplace(url: URL): Workplace {
  let worker: Worker | null = null;
  let lastId = 0;
  const pending = new Map<number, Pending>();

  const breakDown = (error: Error): void => {
    worker = null;
    for (const { reject } of pending.values()) reject(error);
    pending.clear();
  };

  const start = (): Worker => {
    const started = new Worker(url);
    // Jobs keep the program alive by their callers, not by the idle thread.
    started.unref();
    started.on('message', ({ id, ...answer }: WorkerAnswer) => {
      const job = pending.get(id);
      pending.delete(id);
      if ('error' in answer) job?.reject(new Error(answer.error));
      else job?.resolve(answer.gives as never);
    });
    started.on('error', (error) => {
      if (worker === started) breakDown(error instanceof Error ? error : new Error(String(error)));
    });
    started.on('exit', (code) => {
      if (worker === started) breakDown(new Error(`the engine's thread ended with code ${code}`));
    });
    return started;
  };

  return {
    isApart: true,
    work: (kind, needs) =>
      new Promise((resolve, reject) => {
        lastId += 1;
        pending.set(lastId, { resolve, reject });
        worker ??= start();
        worker.postMessage({ id: lastId, kind, needs } satisfies WorkerOrder);
      }),
    close: async () => {
      const open = worker;
      worker = null;
      pending.clear();
      await open?.terminate();
    },
  };
}
