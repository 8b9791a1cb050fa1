import { lookAt } from '../helpers/screen/look-at.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { words } from '../helpers/screen/words.ts';
import { walkBench } from '../helpers/walk-kit.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';

test.use({ viewport: { width: 1280, height: 800 } });

test('the amplifier at a glance shows live what was measured, and nothing expected before it', async ({
  page,
  host,
}) => {
  test.setTimeout(200_000);
  const walker = await startWalkedBuild(host);
  await walker.walkTo('read-output-cathode');
  await page.goto(host.url);
  await page.getByRole('button', { name: /^Go on with Heron/ }).click();
  const main = page.getByRole('main');
  const { at, id } = walker.view.kit.readings.find((reading) => reading.id === 'v2-cathode') ?? {
    at: '',
    id: '',
  };
  expect(at).not.toBe('');
  await page.getByRole('navigation', { name: 'Build' }).getByRole('button', { name: 'At a glance' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'The amplifier at a glance' })).toBeVisible();
  await expect(page.getByRole('banner', { name: 'Energy state' })).toContainText('Live');
  const row = main.getByRole('row', { name: /^3 · cathode/ });
  const v2 = main.getByRole('img', { name: /^Socket V2/ });
  await expect(row.first()).toBeVisible();
  expect(await v2.textContent()).not.toMatch(/\(\d/);
  await lookAt(page, '40-glance-before');
  await walker.reload();
  await walker.read(id);
  await expect(v2).toContainText('(');
  await walker.walkTo('off-running');
  await expect(main.getByText('to be read')).toHaveCount(0);
  await lookAt(page, '41-glance');
});

test(
  'an adjust step tells the target, which way to turn, an over-shoot, and keeps only what is on target',
  { tag: '@long' },
  async ({ page, host }) => {
    test.setTimeout(400_000);
    const bench = { ...walkBench, meter: { ...walkBench.meter, ratedVolts: 1500 } };
    const walker = await startWalkedBuild(
      host,
      { ...bench, leads: { ...bench.leads, ratedVolts: 1500 } },
      'curlew',
    );
    await walker.walkTo('adjust-v2');
    await page.goto(host.url);
    await page.getByRole('button', { name: /^Go on with Curlew/ }).click();
    const main = page.getByRole('main');
    const field = main.getByRole('textbox', { name: words.meterShows });
    await expect(main.getByText(/^Target of P2/)).toContainText('0.4');
    await expect(main.getByText('Read it first, then turn.')).toBeVisible();
    await lookAt(page, '45-adjust-before');
    await field.fill('0.12');
    await field.press('Enter');
    await expect(main.getByText(/to go: turn P2 clockwise/)).toBeVisible();
    await expect(main.getByText(/a twentieth of its travel moves the reading by/)).toBeVisible();
    await lookAt(page, '46-adjust-turn');
    await field.fill('0.45');
    await field.press('Enter');
    await expect(main.getByText(/too much: turn P2 anticlockwise/)).toBeVisible();
    await expect(main.getByText(/went past the target/)).toBeVisible();
    await expect(main.getByRole('button', { name: 'Keep' })).toHaveCount(0);
    await lookAt(page, '47-adjust-past');
    await field.fill('0.402');
    await field.press('Enter');
    await expect(main.getByText('On target.')).toBeVisible();
    await expect(main.getByRole('button', { name: 'Keep' })).toBeVisible();
    await lookAt(page, '48-adjust-there');
    await page
      .getByRole('navigation', { name: 'Build' })
      .getByRole('button', { name: 'At a glance' })
      .click();
    await expect(main.getByRole('img', { name: /^Socket V2/ })).toBeVisible();
    await lookAt(page, '49-glance-curlew');
  },
);
