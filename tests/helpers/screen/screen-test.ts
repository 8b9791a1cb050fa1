import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test as plainTest } from '@playwright/test';
import { HostProcess } from '../hand-host/host-process.ts';
import { PageGuard } from './page-guard.ts';

interface ScreenFixtures {
  /** A host of this test's own, started. */
  readonly host: HostProcess;
  /** Watches the page from its first request. */
  readonly guard: PageGuard;
}

/** A test with a host and a page of its own; it fails on anything the page may never do. */
export const test = plainTest.extend<ScreenFixtures>({
  host: async ({ guard }, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'kitwright-e2e-'));
    const host = new HostProcess(folder);
    await host.start();
    await use(host);
    guard.setHostAway(true);
    await host.kill();
    rmSync(folder, { recursive: true, force: true });
    expect(host.faults).toEqual([]);
  },
  guard: [
    async ({ page }, use) => {
      const guard = new PageGuard();
      guard.watch(page);
      await use(guard);
      expect(guard.faults).toEqual([]);
    },
    { auto: true },
  ],
});

export { expect };
