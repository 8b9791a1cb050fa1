import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { HostEvent } from '../../../shared-core/contract/calls.ts';

type Handler = (event: unknown, name: unknown, given: unknown) => Promise<unknown>;
const handlers = new Map<string, Handler>();
const exposed: Record<string, Record<string, (...given: never[]) => unknown>> = {};
const relayed: ((event: unknown, given: HostEvent) => void)[] = [];

// The runtime is not needed to see what the two sides say to each other.
vi.mock('electron', () => ({
  ipcMain: { handle: (channel: string, handler: Handler) => handlers.set(channel, handler) },
  contextBridge: {
    exposeInMainWorld: (name: string, api: Record<string, (...given: never[]) => unknown>) => {
      exposed[name] = api;
    },
  },
  ipcRenderer: {
    invoke: (channel: string, name: unknown, given: unknown) =>
      handlers.get(channel)?.(ownFrame, name, given),
    on: (_channel: string, relay: (event: unknown, given: HostEvent) => void) => relayed.push(relay),
    off: (_channel: string, relay: (event: unknown, given: HostEvent) => void) =>
      relayed.splice(relayed.indexOf(relay), 1),
  },
}));

const ownFrame = { senderFrame: { url: 'app://bundle/index.html', parent: null } };
const settings = { textSize: 2 };

async function open() {
  handlers.clear();
  relayed.length = 0;
  const sent: unknown[][] = [];
  const hearers: ((event: HostEvent) => void)[] = [];
  const services = {
    calls: { 'settings.get': async () => settings },
    blobs: { report: async () => null },
    listen: (hear: (event: HostEvent) => void) => {
      hearers.push(hear);
      return () => undefined;
    },
  };
  const window = {
    isDestroyed: () => false,
    webContents: { send: (...given: unknown[]) => sent.push(given) },
    on: () => undefined,
  };
  const { serveWindow } = await import('../../../electron/main/serve-window.ts');
  serveWindow(services as never, window as never);
  vi.resetModules();
  await import('../../../electron/preload/preload.ts');
  const page = exposed['kitwright'] as unknown as {
    call: (name: string, given: unknown) => Promise<unknown>;
    blob: (name: string, given: unknown) => Promise<unknown>;
    onEvent: (hear: (event: HostEvent) => void) => () => void;
  };
  return { page, sent, hearers };
}

describe('the window’s channels', () => {
  beforeEach(() => vi.resetModules());

  it('give the page three functions and nothing else', async () => {
    const { page } = await open();
    expect(Object.keys(page).sort()).toEqual(['blob', 'call', 'onEvent']);
  });

  it('carry a call to the services and its answer back', async () => {
    const { page } = await open();
    await expect(page.call('settings.get', {})).resolves.toEqual(settings);
  });

  it('refuse a call that is not in the contract, wrong arguments, and a blob that is not there', async () => {
    const { page } = await open();
    await expect(page.call('__proto__', {})).rejects.toThrow('There is no __proto__');
    await expect(page.call('build.open', { build: 7 })).rejects.toThrow('build.open: build');
    await expect(page.blob('report', { build: '5f0c3c1e-6f0a-4a55-9e57-0b1f6a2f8f11' })).rejects.toThrow(
      'no such report',
    );
  });

  it('refuse a message from another page or from a frame inside ours', async () => {
    await open();
    const call = handlers.get('kitwright:call');
    const stranger = { senderFrame: { url: 'https://example.org/', parent: null } };
    const inner = { senderFrame: { url: 'app://bundle/index.html', parent: {} } };
    for (const event of [stranger, inner, { senderFrame: null }]) {
      await expect(call?.(event, 'settings.get', {})).rejects.toThrow('Refused');
    }
  });

  it('pass the services’ events on, without the object that carries them', async () => {
    const { page, sent, hearers } = await open();
    const heartbeat: HostEvent = { kind: 'heartbeat', run: 'r', tick: 5, at: '2026-03-01T10:00:00.000Z' };
    hearers[0]?.(heartbeat);
    expect(sent).toEqual([['kitwright:event', heartbeat]]);
    const heard: HostEvent[] = [];
    const stop = page.onEvent((event) => heard.push(event));
    relayed[0]?.({ sender: 'secret' }, heartbeat);
    stop();
    expect(heard).toEqual([heartbeat]);
    expect(relayed).toEqual([]);
  });
});
