import { defineConfig } from '@playwright/test';
import { findInstalledBrowser, thisMachine } from './tests/helpers/find-browser.mjs';

const browser = findInstalledBrowser(thisMachine());
if (!browser.ok) throw new Error(`${browser.message} npm test installs one.`);

export default defineConfig({
  testDir: 'tests/e2e',
  outputDir: 'test-output/e2e',
  globalSetup: './tests/helpers/hand-host/prepare.ts',
  workers: 2,
  timeout: 60_000,
  // A first prediction takes seconds where two tests share two cores.
  expect: { timeout: 30_000 },
  // A test that needs a second try has found something.
  retries: 0,
  forbidOnly: true,
  reporter: [['list']],
  use: {
    actionTimeout: 30_000,
    launchOptions: {
      executablePath: browser.path,
      // Chromium refuses its sandbox to root, and CI runs as root.
      args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
    },
    screenshot: 'only-on-failure',
    trace: 'retain-on-failure',
  },
});
