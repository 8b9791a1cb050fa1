import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';

/** Why a request is turned away: an HTTP status and a word for it. */
export interface TurnedAway {
  readonly status: 401 | 403 | 415 | 421;
  readonly why: string;
}

/** A new token of 32 random bytes, safe in a URL. */
export function newToken(): string {
  return randomBytes(32).toString('base64url');
}

/**
 * Rules for every request: it comes to our own name and from our own page.
 *
 * The Host list stops pages that were rebound to 127.0.0.1 by name; Origin and Sec-Fetch-Site stop other sites
 * in the same browser.
 */
export function turnAway(headers: IncomingHttpHeaders, port: number): TurnedAway | null {
  const { host, origin } = headers;
  const hosts = [`127.0.0.1:${port}`, `localhost:${port}`];
  if (host === undefined || !hosts.includes(host.toLowerCase())) return { status: 421, why: 'host' };
  if (origin !== undefined && !hosts.some((each) => origin.toLowerCase() === `http://${each}`)) {
    return { status: 403, why: 'origin' };
  }
  const site = headers['sec-fetch-site'];
  const isOwn = site === undefined || site === 'same-origin' || site === 'none';
  return isOwn ? null : { status: 403, why: 'site' };
}

/** Rules for calls, blobs and events beside those for every request: the token, and JSON where there is a body. */
export function turnAwayCaller(
  headers: IncomingHttpHeaders,
  token: string,
  hasBody: boolean,
): TurnedAway | null {
  const given = /^Bearer (\S+)$/.exec(headers.authorization ?? '')?.[1];
  if (given === undefined || !isSameToken(given, token)) return { status: 401, why: 'token' };
  const type = headers['content-type'] ?? '';
  const isJson = /^application\/json(;\s*charset=utf-8)?$/i.test(type);
  return hasBody && !isJson ? { status: 415, why: 'type' } : null;
}

/** Compares in a time that tells nothing about how much was right. */
function isSameToken(given: string, token: string): boolean {
  const [one, other] = [Buffer.from(given), Buffer.from(token)];
  return one.length === other.length && timingSafeEqual(one, other);
}

/** What the page may do: nothing but its own files, and pictures that it was given as bytes. */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "require-trusted-types-for 'script'",
  "trusted-types 'none'",
].join('; ');

/** Headers of every answer. */
export const safetyHeaders: Readonly<Record<string, string>> = {
  'content-security-policy': contentPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'cache-control': 'no-store',
};
