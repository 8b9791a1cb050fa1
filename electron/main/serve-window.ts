import { ipcMain } from 'electron';
import type { BrowserWindow, IpcMainInvokeEvent } from 'electron';
import { dispatchBlob, dispatchCall } from '../services/dispatch.ts';
import type { Dispatched } from '../services/dispatch.ts';
import type { Services } from '../services/services.ts';
import { channels } from './channels.ts';
import { isTrustedSender } from './window-policy.ts';

/**
 * Hands the page's messages to the services, and the services' events to the page.
 *
 * The only place that touches `ipcMain`. A message from anything but the top frame of our own page is refused.
 */
export function serveWindow(services: Services, window: BrowserWindow): void {
  ipcMain.handle(channels.call, (event, name: unknown, given: unknown) =>
    answer(event, () => dispatchCall(services, String(name), given)),
  );
  ipcMain.handle(channels.blob, (event, name: unknown, given: unknown) =>
    answer(event, () => dispatchBlob(services, String(name), given)),
  );
  const stop = services.listen((event) => {
    if (!window.isDestroyed()) window.webContents.send(channels.event, event);
  });
  window.on('closed', stop);
}

async function answer<Value>(
  { senderFrame }: IpcMainInvokeEvent,
  ask: () => Promise<Dispatched<Value>>,
): Promise<Dispatched<Value>> {
  const frame = senderFrame === null ? null : { url: senderFrame.url, isTop: senderFrame.parent === null };
  if (!isTrustedSender(frame)) throw new Error('Refused: this message is not from the app’s own page.');
  return ask();
}
