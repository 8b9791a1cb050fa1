import { blobSchemas, callSchemas } from '../../shared-core/contract/schemas.ts';
import type { BlobFile, BlobName, CallName } from '../../shared-core/contract/calls.ts';
import type { Services } from './services.ts';

/** What came of a message from a screen. */
export type Dispatched<Value> =
  | { readonly kind: 'answer'; readonly value: Value }
  /** There is no such call or blob. */
  | { readonly kind: 'unknown' }
  /** The arguments have the wrong shape. */
  | { readonly kind: 'arguments'; readonly message: string };

/** Checks the shape of a call's arguments and makes the call. Host and window come through here. */
export async function dispatchCall(
  services: Services,
  name: string,
  given: unknown,
): Promise<Dispatched<unknown>> {
  if (!isCallName(name)) return { kind: 'unknown' };
  const read = callSchemas[name].safeParse(given);
  if (!read.success) return wrongArguments(read.error);
  // Name and arguments belong together: the schema of that very name has just read them.
  const handler = services.calls[name] as (given: unknown) => Promise<unknown>;
  return { kind: 'answer', value: await handler(read.data) };
}

/** The same for blobs; null where there is no such thing. */
export async function dispatchBlob(
  services: Services,
  name: string,
  given: unknown,
): Promise<Dispatched<BlobFile | null>> {
  if (!isBlobName(name)) return { kind: 'unknown' };
  const read = blobSchemas[name].safeParse(given);
  if (!read.success) return wrongArguments(read.error);
  const handler = services.blobs[name] as (given: unknown) => Promise<BlobFile | null>;
  return { kind: 'answer', value: await handler(read.data) };
}

function isCallName(name: string): name is CallName {
  return Object.hasOwn(callSchemas, name);
}

function isBlobName(name: string): name is BlobName {
  return Object.hasOwn(blobSchemas, name);
}

interface Issues {
  readonly issues: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[];
}

function wrongArguments({ issues }: Issues): { readonly kind: 'arguments'; readonly message: string } {
  const message = issues.map(
    (issue) => `${issue.path.map(String).join('.') || 'arguments'}: ${issue.message}`,
  );
  return { kind: 'arguments', message: message.slice(0, 5).join('; ') };
}
