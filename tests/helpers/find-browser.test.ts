import { describe, expect, it } from 'vitest';
import { findBrowser, findInstalledBrowser, type Machine } from './find-browser.mjs';

/** A described machine: the programs on it, and what each command that is run adds to them. */
function describeMachine(given: {
  programs?: readonly string[];
  env?: Record<string, string>;
  isRoot?: boolean;
  adds?: Readonly<Record<string, string>>;
}): Machine & { ran: string[] } {
  const programs = new Set(given.programs ?? []);
  const ran: string[] = [];
  return {
    env: { PATH: '/usr/bin:/opt/bin', ...given.env },
    home: '/home/ab',
    platform: 'linux',
    isRoot: given.isRoot ?? false,
    isProgram: (path) => programs.has(path),
    list: (folder) =>
      [...programs]
        .filter((path) => path.startsWith(`${folder}/`))
        .map((path) => path.slice(folder.length + 1).split('/')[0] ?? ''),
    run: (command, args) => {
      const line = [command, ...args].join(' ');
      ran.push(line);
      const added = Object.entries(given.adds ?? {}).find(([part]) => line.includes(part))?.[1];
      if (added) programs.add(added);
      return added !== undefined || programs.has(command);
    },
    ran,
  };
}

const cached = (build: number) => `/home/ab/.cache/ms-playwright/chromium-${build}/chrome-linux64/chrome`;

describe('findInstalledBrowser', () => {
  it('takes $CHROMIUM before anything else', () => {
    const machine = describeMachine({
      env: { CHROMIUM: '/my/chrome' },
      programs: ['/my/chrome', '/usr/bin/chromium', cached(1)],
    });
    expect(findInstalledBrowser(machine)).toMatchObject({ ok: true, path: '/my/chrome' });
  });

  it('refuses a $CHROMIUM that is no program instead of taking another', () => {
    const machine = describeMachine({ env: { CHROMIUM: '/gone' }, programs: ['/usr/bin/chromium'] });
    expect(findInstalledBrowser(machine)).toEqual({ ok: false, message: expect.stringContaining('/gone') });
  });

  it('takes the first chromium on the PATH before the cache', () => {
    const machine = describeMachine({ programs: ['/opt/bin/chromium', cached(1)] });
    expect(findInstalledBrowser(machine)).toMatchObject({ ok: true, path: '/opt/bin/chromium' });
  });

  it("takes the newest of Playwright's cache by number, not by spelling", () => {
    const machine = describeMachine({ programs: [cached(999), cached(1200)] });
    expect(findInstalledBrowser(machine)).toMatchObject({ ok: true, path: cached(1200) });
  });
});

describe('findBrowser', () => {
  it('installs nothing when one is there', () => {
    const machine = describeMachine({ programs: ['/usr/bin/chromium'], isRoot: true });
    expect(findBrowser(machine)).toMatchObject({ ok: true, how: 'PATH' });
    expect(machine.ran).toEqual([]);
  });

  it("takes Playwright's download when that starts", () => {
    const machine = describeMachine({ adds: { 'playwright install chromium': cached(1200) } });
    expect(findBrowser(machine)).toMatchObject({
      ok: true,
      path: cached(1200),
      how: "Playwright's download",
    });
  });

  it('installs by apt when the download fails and the user is root', () => {
    const machine = describeMachine({
      isRoot: true,
      programs: ['/usr/bin/apt-get'],
      adds: { 'apt-get install': '/usr/bin/chromium' },
    });
    expect(findBrowser(machine)).toMatchObject({ ok: true, path: '/usr/bin/chromium', how: 'apt' });
    expect(machine.ran[0]).toContain('playwright install');
  });

  it('leaves apt alone when the user is not root, and says what to do', () => {
    const machine = describeMachine({ programs: ['/usr/bin/apt-get'] });
    expect(findBrowser(machine)).toEqual({
      ok: false,
      message: expect.stringMatching(/apt-get install chromium.*CHROMIUM/s),
    });
    expect(machine.ran.some((line) => line.startsWith('apt-get'))).toBe(false);
  });
});
