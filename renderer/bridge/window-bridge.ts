import type { Answer, CallName } from '../../shared-core/contract/calls.ts';
import type { Bridge, WindowBridge } from './bridge.ts';

/** The bridge of the window: the preload script has done the work. */
export function windowBridge(given: WindowBridge): Bridge {
  return {
    call: async <Name extends CallName>(name: Name, args: unknown) =>
      (await given.call(name, args)) as Answer<Name>,
    blob: (name, args) => given.blob(name, args),
    listen: (hear) => given.onEvent(hear),
  } satisfies Bridge;
}

/** What the preload script left on the page; null in a browser. */
export function findWindowBridge(page: object): WindowBridge | null {
  return 'kitwright' in page ? (page.kitwright as WindowBridge) : null;
}
