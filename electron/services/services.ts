import { randomUUID } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import type { HostEvent } from '../../shared-core/contract/calls.ts';
import { thisOwner } from '../files/lock-file.ts';
import { InstrumentDesk } from '../instruments/instrument-desk.ts';
import { blobHandlers } from './blob-handlers.ts';
import { BuildShelf } from './build-shelf.ts';
import { callHandlers } from './call-handlers.ts';
import { Heart } from './heart.ts';
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
  const shelf = new BuildShelf({
    dataFolder: options.dataFolder,
    engine: options.engine,
    owner: thisOwner(run),
    stamp,
    changed: (build, seq, lapsed) =>
      tell({ kind: 'build-changed', build, seq, ...(lapsed === true ? { lapsed } : {}) }),
  });
  const heart = new Heart(stamp, shelf, tell);
  const instruments = new InstrumentDesk();
  let askedPath: string | null = null;
  const context: ServiceContext = { ...options, shelf, instruments, tell, askedPath: () => askedPath };
  return {
    calls: callHandlers(context),
    blobs: blobHandlers(context),
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
      await options.engine.close();
    },
  };
}
