import { contextBridge, ipcRenderer } from 'electron';
import type { BlobFile, HostEvent } from '../../shared-core/contract/calls.ts';
import { channels } from '../main/channels.ts';
import type { Dispatched } from '../services/dispatch.ts';

/**
 * What the window's page gets: three functions and nothing else. Neither `ipcRenderer` nor the event objects
 * that carry it ever reach the page.
 */
contextBridge.exposeInMainWorld('kitwright', {
  call: async (name: string, given: unknown): Promise<unknown> =>
    open((await ipcRenderer.invoke(channels.call, name, given)) as Dispatched<unknown>, name),
  blob: async (name: string, given: unknown): Promise<BlobFile> => {
    const file = open(
      (await ipcRenderer.invoke(channels.blob, name, given)) as Dispatched<BlobFile | null>,
      name,
    );
    if (file === null) throw new Error(`There is no such ${name}.`);
    return file;
  },
  onEvent: (hear: (event: HostEvent) => void): (() => void) => {
    const relay = (_event: unknown, given: HostEvent): void => hear(given);
    ipcRenderer.on(channels.event, relay);
    return () => ipcRenderer.off(channels.event, relay);
  },
});

function open<Value>(dispatched: Dispatched<Value>, name: string): Value {
  if (dispatched.kind === 'answer') return dispatched.value;
  throw new Error(dispatched.kind === 'unknown' ? `There is no ${name}.` : `${name}: ${dispatched.message}`);
}
