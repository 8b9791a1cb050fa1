import type {
  Answer,
  Arguments,
  BlobFile,
  BlobName,
  Blobs,
  CallName,
  Hello,
  HostEvent,
} from '../../shared-core/contract/calls.ts';
import type { Engine } from '../engine-worker/engine.ts';
import type { SettingsPort } from '../files/settings-file.ts';
import type { InstrumentDesk } from '../instruments/instrument-desk.ts';
import type { BuildShelf } from './build-shelf.ts';
import type { Clock } from './clock.ts';

/** What the services need from whoever starts them. */
export interface ServicesOptions {
  readonly dataFolder: string;
  readonly clock: Clock;
  readonly engine: Engine;
  readonly settings: SettingsPort;
  /** Kits that come with the app: paths of their folders. */
  readonly kitFolders: readonly string[];
  readonly face: Hello['face'];
  readonly version: string;
}

/** What every handler may use. */
export interface ServiceContext extends ServicesOptions {
  readonly instruments: InstrumentDesk;
  readonly shelf: BuildShelf;
  /** The kit that the app was asked to open at its start, or by a second start. */
  readonly askedPath: () => string | null;
  readonly tell: (event: HostEvent) => void;
}

/** A handler for every call, and for every blob. */
export type CallHandlers = {
  readonly [Name in CallName]: (given: Arguments<Name>) => Promise<Answer<Name>>;
};
export type BlobHandlers = {
  readonly [Name in BlobName]: (given: Blobs[Name]) => Promise<BlobFile | null>;
};
