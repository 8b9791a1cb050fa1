import { hash } from 'node:crypto';

/** SHA-256 of bytes, or of text as UTF-8, in lower-case hex. */
export function sha256(content: string | Uint8Array): string {
  return hash('sha256', content, 'hex');
}
