import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { setUpBench } from '../helpers/screen/begin-heron.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { words } from '../helpers/screen/words.ts';
import { root } from '../run/child.mjs';

const pictures = join(root, 'test-output/screens');

/** Marked as practice, across the whole width and in the title; no fault found by axe, light and dark. */
async function look(page: Page, name: string): Promise<void> {
  const band = page.getByRole('region', { name: 'Practice', exact: true });
  await expect(band).toContainText('PRACTICE');
  await expect(page).toHaveTitle(/^PRACTICE/);
  mkdirSync(pictures, { recursive: true });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    for (const width of [1024, 1280, 1920]) {
      await page.setViewportSize({ width, height: width === 1280 ? 800 : (width * 9) / 16 });
      const box = await band.boundingBox();
      expect(box?.width).toBeGreaterThan(width - 20);
      await page.screenshot({ path: join(pictures, `${name}-${colorScheme}-${width}.png`) });
    }
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target }) => `${id} at ${target.join(' ')}`),
    );
    expect(found, `${name}, ${colorScheme}`).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light', forcedColors: 'active' });
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.screenshot({ path: join(pictures, `${name}-forced.png`) });
  await page.emulateMedia({ forcedColors: 'none' });
  await page.evaluate(() => (document.documentElement.style.fontSize = '32px'));
  await page.screenshot({ path: join(pictures, `${name}-large.png`) });
  const { wide, view } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth,
    view: document.documentElement.clientWidth,
  }));
  await page.evaluate(() => (document.documentElement.style.fontSize = '100%'));
  expect(wide, `${name} at 200 %`).toBeLessThanOrEqual(view);
}

test('a practice power-up is marked on every screen, skips its waits, and is no build', async ({
  page,
  host,
}) => {
  test.setTimeout(240_000);
  await page.goto(host.url);
  await page.getByRole('button', { name: words.begin }).click();
  await page.getByRole('button', { name: 'Practice power-up' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Your bench' })).toBeVisible();
  await look(page, '60-practice-bench');
  await setUpBench(page);
  const main = page.getByRole('main');
  await main.getByRole('button', { name: words.plugOut }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Prove every store empty' })).toBeVisible();
  const band = page.getByRole('region', { name: 'Practice', exact: true });
  await expect(band).toContainText(/The meter shows: C\d/);
  await look(page, '61-practice-drain');
  const edge = page.getByRole('navigation', { name: 'Build' });
  await expect(edge.getByRole('button', { name: 'Report' })).toHaveCount(0);
  await expect(edge.getByRole('button', { name: 'Notes' })).toHaveCount(0);
  const at = await page.evaluate(() => location.hash);
  await page.evaluate((hash) => (location.hash = hash.replace(/[a-z]+$/, 'report')), at);
  await expect(page.getByRole('heading', { level: 1, name: 'Prove every store empty' })).toBeVisible();
  await edge.getByRole('button', { name: 'Readings' }).click();
  await look(page, '62-practice-readings');
  await edge.getByRole('button', { name: 'Step to do now' }).click();
  // What the meter of practice shows is typed as at the bench; the minute between two looks is skipped.
  const lead = main.getByRole('button', { name: /black lead/ });
  const battery = main.getByRole('textbox', { name: words.battery });
  const across = main.getByRole('textbox', { name: words.across });
  const right = main.getByRole('button', { name: 'All of it is right' });
  const state = page.getByRole('banner', { name: 'Energy state' });
  await expect(lead.or(battery)).toBeVisible();
  if (await lead.isVisible()) await lead.click();
  for (
    let turns = 0;
    turns < 40 && !(await state.getByText('Drained', { exact: true }).isVisible());
    turns += 1
  ) {
    await host.pass(6);
    await expect(
      battery
        .or(across)
        .or(right)
        .or(state.getByText('Drained', { exact: true }))
        .first(),
    ).toBeVisible();
    if (await right.isVisible()) {
      for (const check of await main.getByRole('group', { name: 'Check' }).getByRole('checkbox').all())
        await check.check();
      await right.click();
    } else if (await battery.isVisible()) {
      await battery.fill('9.18');
      await battery.press('Enter');
    } else if (await across.isVisible()) {
      if (
        await main
          .getByText(/to wait|look again in|in \d+ s/)
          .first()
          .isVisible()
      )
        await band.getByRole('button', { name: 'Skip 1 minute' }).click();
      await across.fill('0.04');
      await across.press('Enter');
    }
    await page.waitForTimeout(400);
  }
  await expect(state.getByText('Drained', { exact: true })).toBeVisible();
  await look(page, '63-practice-step');
  await page.goto(host.url);
  await expect(page.getByRole('heading', { level: 1, name: 'Kitwright' })).toBeVisible();
  await expect(page.getByText('Builds under way')).toHaveCount(0);
  await expect(page).not.toHaveTitle(/PRACTICE/);
});
