import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { setUpBench } from '../helpers/screen/begin-heron.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { Walker } from '../helpers/walk-kit.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';
import { root } from '../run/child.mjs';

const pictures = join(root, 'test-output/screens');

/** Light and dark, at three sizes; no fault found by axe. */
async function look(page: Page, name: string): Promise<void> {
  mkdirSync(pictures, { recursive: true });
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    for (const width of [1024, 1920, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      await page.screenshot({ path: join(pictures, `${name}-${colorScheme}-${width}.png`) });
    }
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target }) => `${id} at ${target.join(' ')}`),
    );
    expect(found, `${name}, ${colorScheme}`).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
}

test('an old record is opened for service: proven first, its readings beside the new ones', async ({
  page,
  host,
}) => {
  test.setTimeout(200_000);
  const walker = await startWalkedBuild(host);
  await walker.walkTo('off-lamp');
  const record = await (await host.blob('record', { build: walker.view.build.build })).text();
  await page.goto(host.url);
  await page
    .getByLabel(/record/i)
    .setInputFiles({ name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(record) });
  await expect(page.getByText('a record, to look at', { exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Service this amplifier' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Your bench' })).toBeVisible();
  const state = page.getByRole('banner', { name: 'Energy state' });
  await expect(state).toContainText('Draining');
  await expect(state).toContainText('time unknown');
  await setUpBench(page);
  await expect(page.getByRole('heading', { level: 1, name: 'Is the plug out?' })).toBeVisible();
  const readings = page.getByRole('navigation', { name: 'Build' }).getByRole('button', { name: 'Readings' });
  await readings.click();
  // A figure of day one is a figure that tells what to read: not before its own number is in.
  await expect(page.getByRole('columnheader', { name: 'Day one' })).toHaveCount(0);
  const service = decodeURIComponent((await page.evaluate(() => location.hash)).split('/')[1] ?? '');
  await page.goto('about:blank');
  const opened = await host.call('build.open', { build: service });
  if (!opened.ok) throw new Error(opened.problems[0].message);
  const again = new Walker(walker.host, opened.value);
  await again.proveDead();
  await again.walkTo('read-v2-cold');
  await page.goto(host.url);
  await page
    .getByRole('button', { name: /^Go on with Heron/ })
    .first()
    .click();
  await readings.click();
  const table = page.getByRole('table', { name: 'Readings' });
  await expect(table.getByRole('columnheader', { name: 'Day one' })).toBeVisible();
  const old = walker.view.build.readings;
  const id = Object.keys(old).find((each) => old[each]?.entries.at(-1)?.entry.kind === 'overload') ?? '';
  const title = walker.view.kit.readings.find((each) => each.id === id)?.title ?? '';
  await expect(table.getByRole('row', { name: title }).first()).toContainText('OL');
  await look(page, '65-service-readings');
});
