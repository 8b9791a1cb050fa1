import { safetyHeaders } from '../host/access.ts';
import type { PageFile } from '../host/page-files.ts';
import { isOwnPage } from './window-policy.ts';

/** An answer of the page's scheme. */
export interface PageAnswer {
  readonly status: 200 | 403 | 404 | 405;
  readonly headers: Readonly<Record<string, string>>;
  readonly bytes: Uint8Array;
}

const nothing = new Uint8Array();

/**
 * Answers a request of the window's page from the list of the page's files, with the same headers as the
 * loopback host. Nothing that was asked for ever becomes a path on the disk.
 */
export function answerPage(
  files: ReadonlyMap<string, PageFile>,
  method: string,
  address: string,
): PageAnswer {
  const headers = safetyHeaders;
  if (!isOwnPage(address)) return { status: 403, headers, bytes: nothing };
  if (method !== 'GET') return { status: 405, headers, bytes: nothing };
  const file = files.get(new URL(address).pathname);
  if (file === undefined) return { status: 404, headers, bytes: nothing };
  return { status: 200, headers: { ...headers, 'content-type': file.type }, bytes: file.bytes };
}
