import { mkdirSync } from 'node:fs';
import { createEngine } from '../engine-worker/engine.ts';
import type { Engine } from '../engine-worker/engine.ts';
import { openWorkplace } from '../engine-worker/workplaces.ts';
import { openSettings } from '../files/settings-file.ts';
import type { Clock } from '../services/clock.ts';
import { beatMs } from '../services/heart.ts';
import { createServices } from '../services/services.ts';
import { appVersion } from '../services/version.ts';
import { newToken } from './access.ts';
import { leaveNote, takeNoteAway } from './host-note.ts';
import { listenLocally } from './host-server.ts';
import { readPageFiles } from './page-files.ts';

/** What a host is started with. The clock is given here and nowhere else. */
export interface HostOptions {
  readonly dataFolder: string;
  readonly clock: Clock;
  /** 0 takes any free port. */
  readonly port: number;
  /** The built page. */
  readonly rendererFolder: string;
  /** Kits that come with the app. */
  readonly kitFolders: readonly string[];
  /** A kit to open first. */
  readonly openPath?: string | null;
  readonly engine?: Engine;
  /** Told our own faults; they go nowhere else. */
  readonly report?: (error: unknown) => void;
}

/** A running host. */
export interface RunningHost {
  /** The address to open, with the token in its fragment, which is never sent to a server. */
  readonly url: string;
  readonly port: number;
  readonly token: string;
  /** A settings file that could not be read, under its new name; null when all was well. */
  readonly settingsSetAside: string | null;
  /** One heartbeat now, beside those every 0.5 s: for a clock that is moved by hand. */
  readonly beat: () => Promise<void>;
  readonly close: () => Promise<void>;
}

/** Starts the loopback host: services, page, heartbeat, and the note by which a second start finds it. */
export async function startHost(options: HostOptions): Promise<RunningHost> {
  const { dataFolder, clock, kitFolders, report = () => undefined } = options;
  mkdirSync(dataFolder, { recursive: true });
  const { settings, setAside } = openSettings(dataFolder);
  const services = createServices({
    ...{ dataFolder, clock, settings, kitFolders },
    engine: options.engine ?? createEngine(openWorkplace()),
    face: 'browser',
    version: appVersion(),
  });
  services.ask(options.openPath ?? null);
  const token = newToken();
  const page = await readPageFiles(options.rendererFolder);
  const { server, port } = await listenLocally({ services, token, page, report }, options.port);
  await leaveNote(dataFolder, services.run, port, token);
  let beating: Promise<void> = Promise.resolve();
  const beat = (): Promise<void> => (beating = beating.then(() => services.beat()).catch(report));
  const heart = setInterval(() => void beat(), beatMs);
  return {
    url: hostUrl(port, token, options.openPath ?? null),
    port,
    token,
    settingsSetAside: setAside,
    beat,
    close: async () => {
      clearInterval(heart);
      await beating;
      await takeNoteAway(dataFolder, services.run);
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeAllConnections();
      await closed;
      await services.close();
    },
  };
}

/** The address of a host, for a browser: with the view of a kit where one is to be opened. */
export function hostUrl(port: number, token: string, openPath: string | null): string {
  const fields = new URLSearchParams({ token });
  if (openPath !== null) fields.set('view', `kit/${encodeURIComponent(openPath)}`);
  return `http://127.0.0.1:${port}/#${fields.toString()}`;
}
