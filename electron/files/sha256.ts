import { createHash } from 'node:crypto';

/** SHA-256 of bytes, or of text as UTF-8, in lower-case hex. */
export function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
