import { readFileSync } from 'node:fs';

/** The app's version, from package.json: it lies two folders up from the sources and from the build. */
export function appVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  const { version } = JSON.parse(text) as { readonly version?: unknown };
  return typeof version === 'string' ? version : 'unknown';
}
