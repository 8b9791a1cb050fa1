import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { HostEvent } from '../../shared-core/contract/calls.ts';
import { dispatchBlob, dispatchCall } from '../services/dispatch.ts';
import type { Services } from '../services/services.ts';
import { safetyHeaders, turnAway, turnAwayCaller } from './access.ts';
import type { PageFile } from './page-files.ts';
import { readJsonBody } from './read-body.ts';

/** What the server serves. */
export interface ServerParts {
  readonly services: Services;
  readonly token: string;
  readonly page: ReadonlyMap<string, PageFile>;
  /** Told what went wrong inside: our own bugs. */
  readonly report: (error: unknown) => void;
}

/** Largest body, in bytes: an action is small, a record with photos is not. */
const usualBytes = 1_000_000;
const mostBytes: Readonly<Record<string, number>> = {
  '/call/record.open': 70_000_000,
  '/call/paper.pages': 70_000_000,
  '/blob/record-report': 70_000_000,
  // One photo, as base64.
  '/call/photo.add': 10_500_000,
};

/** Starts to listen, on this machine only. */
export async function listenLocally(
  parts: ServerParts,
  port: number,
): Promise<{ server: Server; port: number }> {
  const server = createServer((request, response) => {
    answer(parts, (server.address() as AddressInfo).port, request, response).catch((error: unknown) => {
      parts.report(error);
      if (response.headersSent) response.destroy();
      else send(response, 500, 'text/plain', 'The host met a fault of its own.');
    });
  });
  server.requestTimeout = 30_000;
  server.headersTimeout = 10_000;
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', reject);
      resolve();
    });
  });
  return { server, port: (server.address() as AddressInfo).port };
}

async function answer(
  parts: ServerParts,
  port: number,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const path = (request.url ?? '').split(/[?#]/)[0] ?? '';
  const away = turnAway(request.headers, port);
  if (away) return send(response, away.status, 'text/plain', away.why);
  if (request.method === 'GET' || request.method === 'HEAD') {
    if (path === '/events') return streamEvents(parts, request, response);
    const file = parts.page.get(path);
    if (!file) return send(response, 404, 'text/plain', 'not here');
    return send(response, 200, file.type, request.method === 'HEAD' ? '' : file.bytes);
  }
  const called = /^\/(call|blob)\/([A-Za-z.-]{1,60})$/.exec(path);
  if (request.method !== 'POST' || !called) return send(response, 404, 'text/plain', 'not here');
  const refused = turnAwayCaller(request.headers, parts.token, true);
  if (refused) return send(response, refused.status, 'text/plain', refused.why);
  const body = await readJsonBody(request, mostBytes[path] ?? usualBytes);
  if (!body.ok) return send(response, body.status, 'text/plain', 'body');
  return called[1] === 'call'
    ? answerCall(parts, called[2] ?? '', body.value, response)
    : answerBlob(parts, called[2] ?? '', body.value, response);
}

async function answerCall(
  { services }: ServerParts,
  name: string,
  given: unknown,
  response: ServerResponse,
): Promise<void> {
  const done = await dispatchCall(services, name, given);
  if (done.kind === 'unknown') return send(response, 404, 'text/plain', 'no such call');
  if (done.kind === 'arguments') return send(response, 400, 'text/plain', done.message);
  send(response, 200, 'application/json; charset=utf-8', JSON.stringify(done.value));
}

async function answerBlob(
  { services }: ServerParts,
  name: string,
  given: unknown,
  response: ServerResponse,
): Promise<void> {
  const done = await dispatchBlob(services, name, given);
  if (done.kind === 'unknown') return send(response, 404, 'text/plain', 'no such blob');
  if (done.kind === 'arguments') return send(response, 400, 'text/plain', done.message);
  if (done.value === null) return send(response, 404, 'text/plain', 'there is none');
  const { bytes, type, name: fileName } = done.value;
  // RFC 6266 and RFC 8187: any letter may stand in a file's name.
  const disposition = `attachment; filename*=UTF-8''${encodeURIComponent(fileName)}`;
  send(response, 200, type, bytes, { 'content-disposition': disposition });
}

/** Events as one JSON value a line, for as long as the screen listens. */
function streamEvents(
  { services, token }: ServerParts,
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const refused = turnAwayCaller(request.headers, token, false);
  if (refused) return send(response, refused.status, 'text/plain', refused.why);
  response.writeHead(200, { ...safetyHeaders, 'content-type': 'application/x-ndjson; charset=utf-8' });
  response.flushHeaders();
  const stop = services.listen((event: HostEvent) => {
    // A screen that does not read does not fill our memory: it hears nothing and says so.
    if (response.writableLength < 1_000_000) response.write(`${JSON.stringify(event)}\n`);
  });
  response.on('close', stop);
}

function send(
  response: ServerResponse,
  status: number,
  type: string,
  body: string | Uint8Array,
  more: Readonly<Record<string, string>> = {},
): void {
  // A refused request may still be sending its body: the connection ends with the answer.
  const close = status === 413 || status === 421 ? { connection: 'close' } : {};
  response.writeHead(status, { ...safetyHeaders, 'content-type': type, ...more, ...close });
  response.end(body);
}
