import type {
  Answer,
  Arguments,
  BlobFile,
  BlobName,
  Blobs,
  CallName,
} from '../../shared-core/contract/calls.ts';
import type { HostEvent } from '../../shared-core/contract/calls.ts';

/**
 * The one way from a screen to its host: the same contract in the window, the browser and the tests.
 *
 * `call` and `blob` reject only when the host cannot be reached or does not know the sender; everything
 * that a builder can cause comes back as data.
 */
export interface Bridge {
  readonly call: <Name extends CallName>(name: Name, given: Arguments<Name>) => Promise<Answer<Name>>;
  readonly blob: <Name extends BlobName>(name: Name, given: Blobs[Name]) => Promise<BlobFile>;
  /** @returns A function that stops listening. */
  readonly listen: (hear: (event: HostEvent) => void) => () => void;
}

/** What the preload script puts on the page. */
export interface WindowBridge {
  readonly call: (name: string, given: unknown) => Promise<unknown>;
  readonly blob: (name: string, given: unknown) => Promise<BlobFile>;
  readonly onEvent: (hear: (event: HostEvent) => void) => () => void;
}
