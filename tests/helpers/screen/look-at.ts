import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { root } from '../../run/child.mjs';
import { expect } from './screen-test.ts';

const pictures = join(root, 'test-output/screens');

/** One look at a page, light and dark, with axe; then at other sizes. */
export async function lookAt(page: Page, name: string): Promise<void> {
  mkdirSync(pictures, { recursive: true });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    await page.screenshot({ path: join(pictures, `${name}-${colorScheme}.png`), fullPage: true });
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.target.join(' ')}`)).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light', forcedColors: 'active' });
  await page.screenshot({ path: join(pictures, `${name}-forced.png`) });
  await page.emulateMedia({ forcedColors: 'none' });
  for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.screenshot({ path: join(pictures, `${name}-${width}.png`) });
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.evaluate(() => (document.documentElement.style.fontSize = '32px'));
  await page.screenshot({ path: join(pictures, `${name}-large.png`) });
  const { wide, view } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth,
    view: document.documentElement.clientWidth,
  }));
  expect(wide, `${name} at 200 %`).toBeLessThanOrEqual(view);
  await page.evaluate(() => (document.documentElement.style.fontSize = '100%'));
}
