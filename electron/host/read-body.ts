import type { IncomingMessage } from 'node:http';

/** A body as JSON, or why it was not taken: an HTTP status. */
export type BodyReading =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly status: 400 | 413 };

/** Reads a request's body as JSON, up to a number of bytes. */
export async function readJsonBody(request: IncomingMessage, mostBytes: number): Promise<BodyReading> {
  const announced = Number(request.headers['content-length'] ?? 0);
  if (announced > mostBytes) return { ok: false, status: 413 };
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    bytes += chunk.length;
    if (bytes > mostBytes) return { ok: false, status: 413 };
    chunks.push(chunk);
  }
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks));
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch {
    return { ok: false, status: 400 };
  }
}
