import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { root } from '../../run/child.mjs';
import { expect } from './screen-test.ts';

const pictures = join(root, 'test-output/screens');
/** `UPDATE_PICTURES=1` writes the pictures of the README anew. */
export const keptPictures = process.env['UPDATE_PICTURES'] === '1' ? join(root, 'tests/e2e/screens') : null;

/** One screen in every look: no fault found by axe, no sideways scrolling with letters of twice the size. */
export async function checkScreen(page: Page, name: string, keptAs: string | null = null): Promise<void> {
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await expect(page.getByText('State unknown')).toHaveCount(0);
  mkdirSync(pictures, { recursive: true });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    await page.screenshot({ path: join(pictures, `${name}-${colorScheme}.png`) });
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target }) => `${id} at ${target.join(' ')}`),
    );
    expect(found, `${name}, ${colorScheme}`).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
  if (keptPictures !== null && keptAs !== null) {
    mkdirSync(keptPictures, { recursive: true });
    await page.screenshot({ path: join(keptPictures, keptAs) });
  }
  await page.evaluate(() => (document.documentElement.style.fontSize = '32px'));
  const { wide, view } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth,
    view: document.documentElement.clientWidth,
  }));
  await page.screenshot({ path: join(pictures, `${name}-large.png`), fullPage: true });
  // The energy state is never scrolled away, least of all where the letters are large.
  await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight));
  const bar = page.getByRole('banner', { name: 'Energy state' });
  if ((await bar.count()) > 0) await expect(bar).toBeInViewport({ ratio: 0.99 });
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.evaluate(() => (document.documentElement.style.fontSize = '100%'));
  expect(wide, `${name} at 200 %`).toBeLessThanOrEqual(view);
  await page.emulateMedia({ forcedColors: 'active' });
  await page.screenshot({ path: join(pictures, `${name}-forced.png`) });
  await page.emulateMedia({ forcedColors: 'none' });
}
