import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { browserBridge } from '../../../renderer/bridge/browser-bridge.ts';
import { hostNow, sleptBetween } from '../../../renderer/bridge/host-clock.ts';
import { jsonLines } from '../../../renderer/bridge/json-lines.ts';
import { takeToken } from '../../../renderer/bridge/token.ts';
import type { TokenPage } from '../../../renderer/bridge/token.ts';

describe('a stream of JSON lines', () => {
  it('gives the same values however it is cut', () => {
    const values = fc.array(fc.jsonValue(), { maxLength: 6 });
    fc.assert(
      fc.property(values, fc.array(fc.nat(400)), (given, cuts) => {
        const text = given.map((value) => `${JSON.stringify(value)}\n`).join('');
        const at = [0, ...cuts.filter((cut) => cut < text.length).toSorted((a, b) => a - b), text.length];
        const taken: unknown[] = [];
        const feed = jsonLines((value) => taken.push(value));
        for (const [index, from] of at.entries()) feed(text.slice(from, at[index + 1] ?? from));
        expect(taken).toEqual(JSON.parse(JSON.stringify(given)));
      }),
    );
  });

  it('leaves out a line that is not JSON and goes on with the next', () => {
    const taken: unknown[] = [];
    const feed = jsonLines((value) => taken.push(value));
    feed('{"a":1}\nhalf a li');
    feed('ne\n\n{"b":2}\n{"c":');
    expect(taken).toEqual([{ a: 1 }, { b: 2 }]);
  });
});

describe('the token', () => {
  const page = (
    hash: string,
    kept: Record<string, string> = {},
  ): TokenPage & { readonly shown: string[] } => {
    const shown: string[] = [];
    return {
      shown,
      location: { hash, pathname: '/' },
      history: { replaceState: (_, __, url) => void shown.push(url) },
      sessionStorage: {
        getItem: (key) => kept[key] ?? null,
        setItem: (key, value) => void (kept[key] = value),
      },
    };
  };

  it('leaves the address and stays with the tab', () => {
    const kept = {};
    const first = page('#token=abc', kept);
    expect(takeToken(first)).toBe('abc');
    expect(first.shown).toEqual(['/']);
    const reloaded = page('#build/b1/walk', kept);
    expect(takeToken(reloaded)).toBe('abc');
    expect(reloaded.shown).toEqual([]);
  });

  it('keeps the kit that the host was asked to open', () => {
    const opened = page('#token=abc&open=%2Fkits%2Fheron');
    takeToken(opened);
    expect(opened.shown).toEqual(['/#kit/%2Fkits%2Fheron']);
  });
});

describe("the host's clock on this screen", () => {
  const heard = { stamp: { at: '2026-03-07T09:00:00.000Z', run: 'r', tick: 5000 }, screenTick: 100 };

  it('runs on with the time that passed here, on both clocks', () => {
    expect(hostNow(heard, 1600)).toEqual({ at: '2026-03-07T09:00:01.500Z', run: 'r', tick: 6500 });
  });

  it('never runs backwards', () => {
    expect(hostNow(heard, 50).tick).toBe(5000);
  });

  it.each([
    ['half a second', { tick: 500, wall: 500 }, false],
    ['a wall clock that jumped: the computer slept', { tick: 500, wall: 60_000 }, true],
    ['a monotonic clock that ran on through sleep', { tick: 60_000, wall: 60_000 }, true],
  ])('tells sleep from %s', (_, after, slept) => {
    expect(sleptBetween({ tick: 0, wall: 0 }, after)).toBe(slept);
  });
});

describe('the bridge of the browser', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('sends the token with every call, as JSON, and gives the answer', async () => {
    const fetched = vi.fn<() => Promise<Response>>(() => Promise.resolve(Response.json({ textSize: 1 })));
    vi.stubGlobal('fetch', fetched);
    expect(await browserBridge('abc').call('settings.get', {})).toEqual({ textSize: 1 });
    expect(fetched).toHaveBeenCalledWith(
      '/call/settings.get',
      expect.objectContaining({
        method: 'POST',
        body: '{}',
        headers: { authorization: 'Bearer abc', 'content-type': 'application/json' },
      }),
    );
  });

  it('rejects when the host refuses the sender', async () => {
    vi.stubGlobal('fetch', () => Promise.resolve(new Response('token', { status: 401 })));
    await expect(browserBridge('no').call('settings.get', {})).rejects.toThrow('401');
  });

  it('takes the name of a file from the header', async () => {
    const headers = {
      'content-disposition': "attachment; filename*=UTF-8''Heron%20report.pdf",
      'content-type': 'application/pdf',
    };
    vi.stubGlobal('fetch', () => Promise.resolve(new Response(new Uint8Array([1, 2]), { headers })));
    const file = await browserBridge('abc').blob('report', { build: 'b' });
    expect(file.name).toBe('Heron report.pdf');
    expect([...file.bytes]).toEqual([1, 2]);
  });

  it('listens again after the stream broke', async () => {
    const beat = { kind: 'heartbeat', run: 'r', tick: 1, at: 'now' } as const;
    let opened = 0;
    vi.stubGlobal('fetch', () => {
      opened += 1;
      return opened === 1
        ? Promise.reject(new Error('gone'))
        : Promise.resolve(new Response(`${JSON.stringify(beat)}\n`));
    });
    const stop = await new Promise<() => void>((resolve) => {
      const end: () => void = browserBridge('abc').listen((event) => {
        expect(event).toEqual(beat);
        resolve(() => end());
      });
    });
    stop();
    expect(opened).toBe(2);
  });
});
