import type { Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { JobKind, Jobs } from './jobs.ts';

/** How to ask: what the answer may be remembered under, and what it makes obsolete. */
export interface JobOrder {
  /** Equal keys have equal answers: kit hash, choices, bench, what is fitted. Null: not to be remembered. */
  readonly key: string | null;
  /** A newer job of the same slot replaces one that waits: a build and a condition. */
  readonly slot: string;
}

/** The computing part of the app, away from whoever serves the screen. */
export interface Engine {
  readonly run: <Kind extends JobKind>(
    kind: Kind,
    needs: Jobs[Kind]['needs'],
    order: JobOrder,
  ) => Promise<Result<Jobs[Kind]['gives']>>;
  /** Takes an answer that came with another one. */
  readonly remember: <Kind extends JobKind>(kind: Kind, key: string, value: Jobs[Kind]['gives']) => void;
  /** Works beside whoever asks: what may be wanted later can be computed ahead. */
  readonly isApart?: boolean;
  readonly close: () => Promise<void>;
}

/** Does one job somewhere; rejects when that place broke down. */
export interface Workplace {
  readonly work: <Kind extends JobKind>(
    kind: Kind,
    needs: Jobs[Kind]['needs'],
  ) => Promise<Jobs[Kind]['gives']>;
  /** In a thread of its own. */
  readonly isApart?: boolean;
  readonly close: () => Promise<void>;
}

/** Answers remembered: some benches and valve sets of every condition of a kit or two. */
const mostRemembered = 100;

interface Waiting {
  readonly slot: string;
  readonly begin: () => Promise<void>;
  readonly giveUp: () => void;
}

/**
 * An engine that does one job after the other in a workplace, remembers answers, and drops waiting jobs
 * that a newer one of their slot replaces.
 */
export function createEngine(workplace: Workplace): Engine {
  const remembered = new Map<string, Promise<Result<unknown>>>();
  let waiting: Waiting[] = [];
  let isWorking = false;

  const next = async (): Promise<void> => {
    if (isWorking) return;
    isWorking = true;
    for (let job = waiting.shift(); job; job = waiting.shift()) await job.begin();
    isWorking = false;
  };

  const enqueue = <Kind extends JobKind>(
    kind: Kind,
    needs: Jobs[Kind]['needs'],
    slot: string,
  ): Promise<Result<Jobs[Kind]['gives']>> =>
    new Promise((resolve) => {
      for (const old of waiting.filter((job) => job.slot === slot)) old.giveUp();
      waiting = waiting.filter((job) => job.slot !== slot);
      const begin = async (): Promise<void> => {
        try {
          resolve(succeed(await workplace.work(kind, needs)));
        } catch (error) {
          resolve(failed(error));
        }
      };
      waiting.push({ slot, begin, giveUp: () => resolve(replaced) });
      void next();
    });

  const keep = (name: string, answer: Promise<Result<unknown>>): void => {
    // What is asked for again moves to the end of those that are forgotten first.
    remembered.delete(name);
    remembered.set(name, answer);
    const oldest = remembered.keys().next().value;
    if (remembered.size > mostRemembered && oldest !== undefined) remembered.delete(oldest);
  };

  return {
    remember: (kind, key, value) => keep(`${kind}\n${key}`, Promise.resolve(succeed(value))),
    isApart: workplace.isApart === true,
    run: async (kind, needs, { key, slot }) => {
      if (key === null) return enqueue(kind, needs, `${kind}\n${slot}`);
      const name = `${kind}\n${key}`;
      const known = remembered.get(name);
      if (known) {
        keep(name, known);
        return (await known) as Result<Jobs[typeof kind]['gives']>;
      }
      const answer = enqueue(kind, needs, `${kind}\n${slot}`);
      keep(name, answer);
      const result = await answer;
      if (!result.ok && remembered.get(name) === answer) remembered.delete(name);
      return result;
    },
    close: async () => {
      for (const job of waiting) job.giveUp();
      waiting = [];
      await workplace.close();
    },
  };
}

const replaced: Result<never> = fail({
  code: 'predict/replaced',
  severity: 'error',
  message: 'A newer computation took the place of this one',
  hint: 'Nothing to do: the newer one follows.',
});

function failed(error: unknown): Result<never> {
  const message = `The computation broke down: ${error instanceof Error ? error.message : String(error)}`;
  const hint = 'Please report it with the kit file. Readings can still be taken; they are not judged.';
  return fail({ code: 'predict/failed', severity: 'error', message, hint });
}
