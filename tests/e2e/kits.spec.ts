import { expect, test } from '../helpers/screen/screen-test.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';
import { walkBench } from '../helpers/walk-kit.ts';

test.use({ viewport: { width: 1280, height: 800 } });

test('the first steps of Wren are shown with their drawings', { tag: '@long' }, async ({ page, host }) => {
  test.setTimeout(200_000);
  const walker = await startWalkedBuild(host, { ...walkBench, lampWatts: 40 }, 'wren');
  await page.goto(host.url);
  await page.getByRole('button', { name: /^Go on with Wren/ }).click();
  const main = page.getByRole('main');
  for (const step of ['gather-diodes', 'fit-sockets']) {
    await walker.walkTo(step);
    const title = walker.view.facts.steps.find(({ id }) => id === step)?.title ?? '';
    await expect(page.getByRole('heading', { level: 1, name: title })).toBeVisible();
    await expect(main.getByRole('img').first()).toBeVisible();
    const widths = await main
      .locator('img')
      .evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth));
    expect(widths.length).toBeGreaterThan(0);
    expect(Math.min(...widths)).toBeGreaterThan(0);
  }
});
