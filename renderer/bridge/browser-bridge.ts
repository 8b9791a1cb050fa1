import type { Answer, BlobFile, CallName, HostEvent } from '../../shared-core/contract/calls.ts';
import type { Bridge } from './bridge.ts';
import { jsonLines } from './json-lines.ts';

/** How long to wait before listening again after the stream broke, in milliseconds (ms). */
const againAfterMs = 500;

/** The bridge of the browser: the loopback host, by fetch with the token of this tab. */
export function browserBridge(token: string): Bridge {
  const authorization = `Bearer ${token}`;
  const post = async (path: string, given: unknown): Promise<Response> => {
    const response = await fetch(path, {
      method: 'POST',
      headers: { authorization, 'content-type': 'application/json' },
      body: JSON.stringify(given),
      cache: 'no-store',
    });
    if (!response.ok) throw new Error(`The host answered ${response.status} to ${path}.`);
    return response;
  };
  return {
    call: async <Name extends CallName>(name: Name, given: unknown) =>
      (await (await post(`/call/${name}`, given)).json()) as Answer<Name>,
    blob: async (name, given) => toFile(await post(`/blob/${name}`, given), name),
    listen: (hear) => listenForever(authorization, hear),
  } satisfies Bridge;
}

async function toFile(response: Response, name: string): Promise<BlobFile> {
  const header = response.headers.get('content-disposition') ?? '';
  const quoted = /filename\*?=(?:UTF-8'')?"?([^";]+)"?/.exec(header)?.[1];
  return {
    bytes: new Uint8Array(await response.arrayBuffer()),
    type: response.headers.get('content-type') ?? 'application/octet-stream',
    name: quoted === undefined ? name : decodeURIComponent(quoted),
  };
}

/** Listens to the host's events, and again whenever the stream breaks. */
function listenForever(authorization: string, hear: (event: HostEvent) => void): () => void {
  const stop = new AbortController();
  const listenOnce = async (): Promise<void> => {
    const response = await fetch('/events', {
      headers: { authorization },
      signal: stop.signal,
      cache: 'no-store',
    });
    if (!response.ok || response.body === null) return;
    const feed = jsonLines((value) => hear(value as HostEvent));
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      feed(value);
    }
  };
  const loop = async (): Promise<void> => {
    while (!stop.signal.aborted) {
      // A host that is gone is not a fault of this page: the silence is what the screen shows.
      await listenOnce().catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, againAfterMs));
    }
  };
  void loop();
  return () => stop.abort();
}
