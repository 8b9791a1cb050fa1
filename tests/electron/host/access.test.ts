import { request } from 'node:http';
import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findNote } from '../../../electron/host/host-note.ts';
import { hostUrl } from '../../../electron/host/start-host.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { startTestHost } from '../../helpers/start-host.ts';
import type { TestHost } from '../../helpers/start-host.ts';

let host: TestHost;
beforeAll(async () => {
  const rendererFolder = newFolder();
  mkdirSync(join(rendererFolder, 'assets'));
  writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>Kitwright</title>');
  writeFileSync(join(rendererFolder, 'assets', 'app.js'), 'export {};');
  writeFileSync(join(rendererFolder, 'secret.key'), 'not a page file');
  host = await startTestHost({ rendererFolder });
});
afterAll(async () => {
  await host.close();
  removeFolders();
});

interface Sent {
  readonly method?: string;
  readonly path?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
}

/** A request with exactly these headers: `fetch` would not let a test choose Host. */
function send({ method = 'POST', path = '/call/settings.get', headers = {}, body = '{}' }: Sent) {
  const good = {
    host: `127.0.0.1:${host.port}`,
    authorization: `Bearer ${host.token}`,
    'content-type': 'application/json',
  };
  return new Promise<{ status: number; headers: Record<string, unknown>; text: string }>(
    (resolve, reject) => {
      const all = Object.fromEntries(
        Object.entries({ ...good, ...headers }).filter(([, value]) => value !== ''),
      );
      const sent = request({ host: '127.0.0.1', port: host.port, method, path, headers: all }, (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (piece: string) => (text += piece));
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
        );
      });
      sent.on('error', reject);
      sent.end(method === 'GET' ? undefined : body);
    },
  );
}

const status = async (sent: Sent): Promise<number> => (await send(sent)).status;

describe('the host answers', () => {
  test('a call with the token, from its own page', async () => {
    const answer = await send({
      headers: { origin: `http://127.0.0.1:${host.port}`, 'sec-fetch-site': 'same-origin' },
    });
    expect([answer.status, JSON.parse(answer.text)]).toEqual([200, expect.objectContaining({ textSize: 1 })]);
  });

  test('under the name localhost too', async () => {
    expect(await status({ headers: { host: `localhost:${host.port}` } })).toBe(200);
  });
});

describe('the host turns away', () => {
  test.each([
    ['a page that was rebound to this machine by name', { host: 'evil.example' }, 421],
    ['its own name with another port', { host: '127.0.0.1:1' }, 421],
    ['a name that only begins like its own', { host: '127.0.0.1.evil.example' }, 421],
    ['another origin', { origin: 'http://evil.example' }, 403],
    ['the origin null of a sandboxed frame or a file', { origin: 'null' }, 403],
    ['an origin that only begins like its own', { origin: 'http://127.0.0.1.evil.example' }, 403],
    ['another port of this machine', { origin: 'http://127.0.0.1:1' }, 403],
    ['a request that the browser calls cross-site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['a request that the browser calls same-site', { 'sec-fetch-site': 'same-site' }, 403],
    ['a call without the token', { authorization: '' }, 401],
    ['a wrong token of the right length', { authorization: `Bearer ${'x'.repeat(43)}` }, 401],
    ['a short token', { authorization: 'Bearer x' }, 401],
    ['a form, which needs no permission to be sent', { 'content-type': 'text/plain' }, 415],
    ['a call without a type', { 'content-type': '' }, 415],
  ])('%s', async (_, headers, expected) => {
    expect(await status({ headers })).toBe(expected);
  });

  test('a listener without the token', async () => {
    expect(await status({ method: 'GET', path: '/events', headers: { authorization: '' } })).toBe(401);
  });

  test('a body that is too big, said or unsaid', async () => {
    const body = JSON.stringify({ settings: { shelf: ['x'.repeat(2_000_000)] } });
    expect(await status({ path: '/call/settings.set', body })).toBe(413);
    const unsaid = await status({
      path: '/call/settings.set',
      body,
      headers: { 'transfer-encoding': 'chunked' },
    }).catch(() => 413);
    expect(unsaid).toBe(413);
  });

  test('what is not JSON, or not the shape that the call has', async () => {
    expect(await status({ body: '{' })).toBe(400);
    expect(await status({ body: '[]' })).toBe(400);
    expect(await status({ body: '{"more":1}' })).toBe(400);
    expect(await status({ path: '/call/settings.set', body: '{"settings":{"textSize":"big"}}' })).toBe(400);
    expect(await status({ path: '/call/build.open', body: '{"build":"../../etc"}' })).toBe(400);
  });

  test('events that only the host may write', async () => {
    const build = '00000000-0000-4000-8000-000000000000';
    for (const event of [
      { kind: 'run-started' },
      { kind: 'heartbeat', missedMs: 0 },
      { kind: 'journal-cut', suspect: false, why: '' },
      { kind: 'exported', by: 'hand', what: 'record' },
      { kind: 'band-shown', reading: 'x' },
      { kind: 'kit-changed', by: 'hand', revision: 'C', kitHash: '', reopenedSteps: [], changedReadings: [] },
    ]) {
      const body = JSON.stringify({ build, expectedSeq: 0, action: event });
      expect([event.kind, await status({ path: '/call/build.act', body })]).toEqual([event.kind, 400]);
    }
  });

  test('a repair that does not say where hands were', async () => {
    const build = '00000000-0000-4000-8000-000000000000';
    const action = { kind: 'repaired', by: 'hand', readings: ['x'], what: 'joint' };
    const statusOf = (given: object) =>
      status({
        path: '/call/build.act',
        body: JSON.stringify({ build, expectedSeq: 0, action: { ...action, ...given } }),
      });
    expect(await statusOf({})).toBe(400);
    expect(await statusOf({ places: 'TS1.4' })).toBe(400);
    expect(await statusOf({ places: [] })).not.toBe(400);
  });

  test('names of no call: those of every object, and paths', async () => {
    for (const name of [
      '__proto__',
      'constructor',
      'toString',
      'hasOwnProperty',
      'no.such',
      '..%2f',
      'settings.get/..',
    ]) {
      expect([name, await status({ path: `/call/${name}` })]).toEqual([name, 404]);
    }
  });

  test('every path that is not in the list of page files', async () => {
    for (const path of [
      '/../package.json',
      '/..%2f..%2fetc/passwd',
      '//etc/passwd',
      '/assets/../../x',
      '/secret.key',
      '/assets',
    ]) {
      expect([path, await status({ method: 'GET', path })]).toEqual([path, 404]);
    }
    expect(await status({ method: 'PUT', path: '/index.html' })).toBe(404);
  });
});

describe('the page', () => {
  test('comes without a token and with every safety header', async () => {
    const page = await send({ method: 'GET', path: '/', headers: { authorization: '' } });
    expect(page.status).toBe(200);
    expect(page.headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': 'no-store',
      'content-type': 'text/html; charset=utf-8',
    });
    const policy = String(page.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("img-src 'self' data: blob:");
    expect(policy).toContain("require-trusted-types-for 'script'");
    expect(policy).not.toMatch(/unsafe|\*|http/);
    expect(page.text).not.toContain(host.token);
  });

  test('comes with its parts', async () => {
    const part = await send({ method: 'GET', path: '/assets/app.js' });
    expect([part.status, part.headers['content-type']]).toEqual([200, 'text/javascript; charset=utf-8']);
  });
});

describe('the host', () => {
  test('listens on the loopback address only', async () => {
    const reached = await new Promise<boolean>((resolve) => {
      // Another address of the same machine: 127.0.0.2 reaches what listens on all addresses (Linux).
      const socket = connect({ host: '127.0.0.2', port: host.port });
      socket.on('connect', () => resolve(true));
      socket.on('error', () => resolve(false));
    });
    expect(reached).toBe(false);
  });

  test('leaves a note that only this user can read, by which a second start finds it', async () => {
    const path = join(host.dataFolder, 'host.json');
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(await findNote(host.dataFolder)).toMatchObject({
      port: host.port,
      token: host.token,
      pid: process.pid,
    });
  });

  test('names a kit to open in the part of the address that is not sent', () => {
    const { hash } = new URL(hostUrl(80, 'T', '/kits/a b&c'));
    // The page shows the view that it finds there: #kit/PATH.
    expect(new URLSearchParams(hash.slice(1)).get('view')).toBe('kit/%2Fkits%2Fa%20b%26c');
  });

  test('that was killed leaves a note that counts for nothing', async () => {
    const folder = newFolder();
    const note = { run: 'x', port: 1, token: 't', started: 'before the last boot:1' };
    // This process runs, but it was not started then: the id was given out again.
    writeFileSync(join(folder, 'host.json'), JSON.stringify({ ...note, pid: process.pid }));
    expect(await findNote(folder)).toBeNull();
  });

  test('takes its note away when it is closed', async () => {
    const other = await startTestHost();
    await other.close();
    expect(await findNote(other.dataFolder)).toBeNull();
  });

  test('has a token of 32 random bytes, another one each time, and never in the part of the address that is sent', async () => {
    const other = await startTestHost();
    expect(Buffer.from(host.token, 'base64url')).toHaveLength(32);
    expect(other.token).not.toBe(host.token);
    expect(new URL(host.url).hash).toBe(`#token=${host.token}`);
    expect(new URL(host.url).pathname + new URL(host.url).search).toBe('/');
    await other.close();
  });
});
