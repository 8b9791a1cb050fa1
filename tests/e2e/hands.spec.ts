import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import type { BuildView } from '../../shared-core/contract/calls.ts';
import type { HostProcess } from '../helpers/hand-host/host-process.ts';
import { likelyEntry } from '../helpers/screen/likely-figures.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';
import { words } from '../helpers/screen/words.ts';
import { root } from '../run/child.mjs';

const pictures = join(root, 'test-output/screens');

const sizes = [
  { width: 1024, height: 768 },
  { width: 1280, height: 800 },
  { width: 1920, height: 1080 },
] as const;

/** One screen at three sizes, light and dark: no fault found by axe, nothing wider than the window. */
async function look(page: Page, name: string): Promise<void> {
  mkdirSync(pictures, { recursive: true });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    for (const size of sizes) {
      await page.setViewportSize(size);
      await page.screenshot({ path: join(pictures, `${name}-${colorScheme}-${size.width}.png`) });
    }
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target }) => `${id} at ${target.join(' ')}`),
    );
    expect(found, `${name}, ${colorScheme}`).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light', forcedColors: 'active' });
  await page.screenshot({ path: join(pictures, `${name}-forced.png`) });
  await page.emulateMedia({ forcedColors: 'none' });
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.evaluate(() => (document.documentElement.style.fontSize = '32px'));
  await page.screenshot({ path: join(pictures, `${name}-large.png`), fullPage: true });
  const { wide, view } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth,
    view: document.documentElement.clientWidth,
  }));
  await page.evaluate(() => (document.documentElement.style.fontSize = '100%'));
  expect(wide, `${name} at 200 %`).toBeLessThanOrEqual(view);
}

async function goOn(page: Page, host: HostProcess): Promise<void> {
  await page.goto(host.url);
  await page.getByRole('button', { name: /^Go on with Heron/ }).click();
  await expect(page.getByRole('banner', { name: 'Energy state' })).toBeVisible();
}

test('contrast, sound and a foot switch are chosen, kept, and no key of the hands is taken', async ({
  page,
  host,
}) => {
  test.setTimeout(120_000);
  await page.goto(`${host.url}`);
  await expect(page.getByRole('heading', { level: 1, name: 'Kitwright' })).toBeVisible();
  await page.evaluate(() => (location.hash = '#settings'));
  await expect(page.getByRole('heading', { level: 1, name: 'Settings' })).toBeVisible();
  await look(page, '50-settings');
  await page.getByRole('group', { name: 'Contrast' }).getByRole('radio', { name: 'more' }).click();
  await page.getByRole('button', { name: 'Choose its key' }).click();
  await page.keyboard.press('Enter');
  await expect(page.getByText(/confirms cautions and the plug/)).toBeVisible();
  await page.getByRole('button', { name: 'Choose its key' }).click();
  await page.keyboard.press('PageDown');
  await expect(page.getByText('PageDown', { exact: true })).toBeVisible();
  await look(page, '51-settings-contrast');
  await page.reload();
  await expect(page.locator(':root')).toHaveAttribute('data-contrast', 'more');
  expect(await host.call('settings.get', {})).toMatchObject({ contrast: 'more', footKey: 'PageDown' });
  // This Chromium has no voice of its own, or has one: either is said, and a voice from the network never used.
  await expect(page.getByText(/read aloud/).first()).toBeVisible();
});

test('a stage says what it will do; the soak tells when to read, and a foot goes on from a good reading', async ({
  page,
  host,
}) => {
  test.setTimeout(240_000);
  await page.addInitScript(() => {
    const asked = { locks: 0 };
    Object.assign(window, { asked });
    Object.defineProperty(navigator, 'wakeLock', {
      value: {
        request: () => {
          asked.locks += 1;
          return Promise.resolve({ release: () => Promise.resolve((asked.locks -= 1)) });
        },
      },
    });
  });
  const locks = (): Promise<number> =>
    page.evaluate(() => (window as unknown as { asked: { locks: number } }).asked.locks);
  const walker = await startWalkedBuild(host);
  await walker.walkTo('on-lamp');
  await goOn(page, host);
  const main = page.getByRole('main');
  const view = async (): Promise<BuildView> => {
    const opened = await host.call('build.open', { build: walker.view.build.build });
    if (!opened.ok) throw new Error(opened.problems[0].message);
    return opened.value;
  };
  const stage = main.getByRole('region', { name: 'What will happen' });
  // Said last of all, when every caution is acknowledged and only the plug is left.
  const confirmAll = async (): Promise<void> => {
    await expect(main.getByRole('button', { name: 'Understood' })).toBeVisible();
    await expect(stage).toHaveCount(0);
    for (let presses = 0; presses < 20 && (await stage.count()) === 0; presses += 1) {
      const { seq } = (await view()).build;
      await page.keyboard.press('Enter');
      await expect.poll(async () => (await view()).build.seq).toBeGreaterThan(seq);
    }
  };
  await confirmAll();
  await expect(stage).toContainText('The 60\u202fW lamp flashes, then goes dim or dark.');
  expect(await locks()).toBe(0);
  await look(page, '52-stage-lamp');
  await page.goto('about:blank');
  await walker.reload();
  await walker.walkTo('soak-1');
  await host.call('settings.set', { settings: { footKey: 'PageDown' } });
  await goOn(page, host);
  await expect(main.getByText(/to go/)).toBeVisible();
  await expect.poll(locks).toBe(1);
  await look(page, '53-soak');
  await host.pass(290);
  await host.pass(15);
  await expect(page.getByRole('alert').getByText('Due now: Cathode of V2.')).toBeVisible();
  await look(page, '54-soak-due');
  const field = main.getByRole('textbox', { name: words.meterShows });
  const { build } = walker.view.build;
  const expectation = await host.call('predict.condition', { build, condition: 'running' });
  if (!expectation.ok) throw new Error(expectation.problems[0].message);
  await field.fill(likelyEntry(expectation.value, 'v2-cathode', () => 0.3));
  await field.press('PageDown');
  await expect(main.getByRole('button', { name: 'Keep' })).toHaveCount(0);
  await field.press('Enter');
  await expect(main.getByRole('button', { name: 'Keep' })).toBeVisible();
  await page.keyboard.press('PageDown');
  await expect(main.getByRole('button', { name: 'Keep' })).toHaveCount(0);
  await host.pass(300);
  await expect(page.getByRole('alert').getByText(/The time is over/)).toBeVisible();
  await field.fill(likelyEntry(expectation.value, 'v2-cathode', () => 0.9));
  await field.press('Enter');
  await expect(main.getByRole('button', { name: 'Keep' })).toBeVisible();
  await look(page, '55-soak-over');
  await page.keyboard.press('PageDown');
  await expect(page.getByRole('heading', { level: 1, name: 'Pull the plug' })).toBeVisible();
  expect((await view()).currentStep).toBe('off-running');
  await page.keyboard.press('PageDown');
  await expect(page.getByRole('banner', { name: 'Energy state' })).toContainText('Live');
  await page.keyboard.press('F9');
  await page.getByRole('dialog').getByRole('button', { name: words.plugOut }).click();
  await expect.poll(locks).toBe(0);
});
