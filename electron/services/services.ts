import { randomUUID } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import type { HostEvent } from '../../shared-core/contract/calls.ts';
import { thisOwner } from '../files/lock-file.ts';
import { InstrumentDesk } from '../instruments/instrument-desk.ts';
import { BuildShelf } from './build-shelf.ts';
import { Heart } from './heart.ts';
import { blobsWithPractice, callsWithPractice } from './practice-handlers.ts';
import { PracticeRoom } from './practice-room.ts';
import type { SessionSurroundings } from './open-session.ts';
import type { BlobHandlers, CallHandlers, ServiceContext, ServicesOptions } from './service-context.ts';

/** The one implementation of the contract; host and window hand their messages to it. */
export interface Services {
  readonly calls: CallHandlers;
  readonly blobs: BlobHandlers;
  /** @returns A function that stops listening. */
  readonly listen: (hear: (event: HostEvent) => void) => () => void;
  /** One heartbeat: to be called every 0.5 s. */
  readonly beat: () => Promise<void>;
  /** New for each start. */
  readonly run: string;
  /** The kit to open first: a path; null for none. */
  readonly ask: (path: string | null) => void;
  readonly close: () => Promise<void>;
}

/** Starts the services: a new run. */
export function createServices(options: ServicesOptions): Services {
  mkdirSync(options.dataFolder, { recursive: true });
  const run = randomUUID();
  const hearers = new Set<(event: HostEvent) => void>();
  const tell = (event: HostEvent): void => {
    for (const hear of hearers) hear(event);
  };
  const stamp = () => ({ ...options.clock.now(), run });
  const surroundings = {
    dataFolder: options.dataFolder,
    engine: options.engine,
    owner: thisOwner(run),
    stamp,
    changed: (build: string, seq: number, lapsed?: true) =>
      tell({ kind: 'build-changed', build, seq, ...(lapsed === true ? { lapsed } : {}) }),
  } satisfies SessionSurroundings;
  const shelf = new BuildShelf(surroundings);
  const practice = new PracticeRoom(surroundings);
  const heart = new Heart(stamp, shelf, tell);
  const instruments = new InstrumentDesk();
  let askedPath: string | null = null;
  const context: ServiceContext = { ...options, shelf, instruments, tell, askedPath: () => askedPath };
  return {
    calls: callsWithPractice(context, practice),
    blobs: blobsWithPractice(context, practice),
    listen: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    beat: () => heart.beat(),
    run,
    ask: (path) => {
      askedPath = path;
    },
    close: async () => {
      hearers.clear();
      instruments.close();
      await shelf.close();
      await practice.shelf.close();
      await options.engine.close();
    },
  };
}
