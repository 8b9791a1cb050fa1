import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron, expect, test } from '@playwright/test';
import { findRuntime } from '../../electron/start/find-runtime.ts';
import { words } from '../helpers/screen/words.ts';
import { root } from '../run/child.mjs';

// Looked for, never imported: the package's own entry would try to download what is missing.
const runtime = findRuntime(
  join(root, 'node_modules/electron'),
  process.env['ELECTRON_OVERRIDE_DIST_PATH'],
  process.platform,
);

const absent = "Electron's runtime is not on this machine";

test('opens a window with the shelf, and the page in it has neither Node nor a way out', async () => {
  if (runtime === null) console.log(`electron.spec.ts is skipped: ${absent}.`);
  test.skip(runtime === null, absent);
  const data = mkdtempSync(join(tmpdir(), 'kitwright-window-'));
  const app = await _electron.launch({
    executablePath: runtime ?? '',
    // As electron/start gives them: the program comes first, then what it reads itself.
    args: [join(root, 'build/node/main.js'), '--data', data],
    // Chromium refuses its sandbox to root, and CI runs as root.
    env: { ...process.env, ...(process.getuid?.() === 0 ? { ELECTRON_DISABLE_SANDBOX: '1' } : {}) },
  });
  try {
    const page = await app.firstWindow();
    await expect(page.getByRole('button', { name: words.begin })).toBeVisible();
    const reach = await page.evaluate(() =>
      ['require', 'process', 'module'].filter((name) => name in window),
    );
    expect(reach).toEqual([]);
    expect(await page.evaluate(() => window.open('https://example.org/'))).toBeNull();
    expect(existsSync(data)).toBe(true);
  } finally {
    await app.close();
    rmSync(data, { recursive: true, force: true });
  }
});
