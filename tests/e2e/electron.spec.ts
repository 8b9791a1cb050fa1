import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron, expect, test } from '@playwright/test';
import { findRuntime, hasDisplay } from '../../electron/start/find-runtime.ts';
import { words } from '../helpers/screen/words.ts';
import { root } from '../run/child.mjs';

// Looked for, never imported: the package's own entry would try to download what is missing.
const runtime = findRuntime(
  join(root, 'node_modules/electron'),
  process.env['ELECTRON_OVERRIDE_DIST_PATH'],
  process.platform,
);

/** Why no window can be opened here, in the product's own order; null where one can. */
const absent =
  runtime === null
    ? "Electron's runtime is not on this machine"
    : process.getuid?.() === 0
      ? 'a window does not open for root, whom it could not fence in'
      : hasDisplay(process.env, process.platform)
        ? null
        : 'there is no display for a window';

test('opens a window with the shelf, and the page in it has neither Node nor a way out', async () => {
  if (absent !== null) console.log(`electron.spec.ts is skipped: ${absent}.`);
  test.skip(absent !== null, absent ?? '');
  const data = mkdtempSync(join(tmpdir(), 'kitwright-window-'));
  const app = await _electron.launch({
    executablePath: runtime ?? '',
    // As electron/start gives them: the program comes first, then what it reads itself.
    args: [join(root, 'build/node/main.js'), '--data', data],
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
