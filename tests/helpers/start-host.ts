import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type {
  Answer,
  Arguments,
  BlobName,
  Blobs,
  CallName,
  HostEvent,
} from '../../shared-core/contract/calls.ts';
import { ownKitFolders } from '../../electron/files/kits-folder.ts';
import { startHost } from '../../electron/host/start-host.ts';
import type { HostOptions, RunningHost } from '../../electron/host/start-host.ts';
import type { Clock } from '../../electron/services/clock.ts';
import { newFolder } from './folders.ts';

/** The host's clocks, moved by hand. */
export interface HandClock extends Clock {
  /** Both clocks run on, in milliseconds (ms). */
  readonly run: (milliseconds: number) => void;
  /** The wall clock alone moves, in milliseconds (ms). */
  readonly jump: (milliseconds: number) => void;
}

export function handClock(startAt = '2026-03-07T09:00:00.000Z'): HandClock {
  let wall = Date.parse(startAt);
  let tick = 1000;
  return {
    now: () => ({ at: new Date(wall).toISOString(), tick }),
    run: (milliseconds) => {
      wall += milliseconds;
      tick += milliseconds;
    },
    jump: (milliseconds) => {
      wall += milliseconds;
    },
  };
}

/** A host with a client: what an end-to-end test needs. */
export interface TestHost extends RunningHost {
  readonly clock: HandClock;
  readonly dataFolder: string;
  readonly call: <Name extends CallName>(name: Name, given: Arguments<Name>) => Promise<Answer<Name>>;
  readonly blob: <Name extends BlobName>(name: Name, given: Blobs[Name]) => Promise<Response>;
  /** A request with the token, everything else as given. */
  readonly request: (path: string, init?: RequestInit) => Promise<Response>;
  /** Lets time pass as it does: a heartbeat every half second. */
  readonly pass: (milliseconds: number) => Promise<void>;
  /** Everything told since the call; `stop` ends listening. */
  readonly hear: () => Promise<{ readonly events: HostEvent[]; readonly stop: () => void }>;
}

export interface TestHostOptions extends Partial<Omit<HostOptions, 'clock'>> {
  readonly clock?: HandClock;
}

/** Starts a host with a clock moved by hand, in a data folder of its own unless one is given. */
export async function startTestHost(options: TestHostOptions = {}): Promise<TestHost> {
  const clock = options.clock ?? handClock();
  const dataFolder = options.dataFolder ?? newFolder('kitwright-data-');
  const faults: unknown[] = [];
  const host = await startHost({
    port: 0,
    rendererFolder: options.rendererFolder ?? emptyPage(),
    kitFolders: ownKitFolders(),
    report: (error) => faults.push(error),
    ...options,
    clock,
    dataFolder,
  });
  const origin = `http://127.0.0.1:${host.port}`;
  const authorization = `Bearer ${host.token}`;
  const request = (path: string, init: RequestInit = {}): Promise<Response> => {
    const headers = new Headers(init.headers);
    headers.set('authorization', authorization);
    return fetch(`${origin}${path}`, { ...init, headers });
  };
  const post = (path: string, given: unknown): Promise<Response> =>
    request(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(given),
    });
  return {
    ...host,
    clock,
    dataFolder,
    request,
    call: async (name, given) => {
      const response = await post(`/call/${name}`, given);
      if (!response.ok)
        throw new Error(`${name}: ${response.status} ${await response.text()} ${faults.join()}`);
      return (await response.json()) as Answer<typeof name>;
    },
    blob: (name, given) => post(`/blob/${name}`, given),
    pass: async (milliseconds) => {
      for (let left = milliseconds; left > 0; left -= 500) {
        clock.run(Math.min(left, 500));
        await host.beat();
      }
    },
    hear: () => hearFrom(request),
  };
}

async function hearFrom(request: TestHost['request']) {
  const stopper = new AbortController();
  const response = await request('/events', { signal: stopper.signal });
  const events: HostEvent[] = [];
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader();
  const read = async (): Promise<void> => {
    let rest = '';
    for (;;) {
      const piece = await reader?.read();
      if (!piece || piece.done) return;
      const lines = (rest + piece.value).split('\n');
      rest = lines.pop() ?? '';
      events.push(...lines.map((line) => JSON.parse(line) as HostEvent));
    }
  };
  read().catch(() => undefined);
  return { events, stop: () => stopper.abort() };
}

function emptyPage(): string {
  const folder = newFolder('kitwright-page-');
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Kitwright</title>');
  return folder;
}
