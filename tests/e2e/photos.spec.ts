import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { checkScreen } from '../helpers/screen/check-screen.ts';
import type { HostProcess } from '../helpers/hand-host/host-process.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';
import { plainJpeg, withSegments } from '../helpers/photo-bytes.ts';

test.use({ viewport: { width: 1280, height: 800 } });

async function openStep(page: Page, host: HostProcess): Promise<void> {
  await page.goto(host.url);
  await page.getByRole('button', { name: /^Go on with Heron/ }).click();
  await expect(page.getByRole('banner', { name: 'Energy state' })).toBeVisible();
}

async function openPage(page: Page, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Build' }).getByRole('button', { name }).click();
}

const secret = 'taken at 51.5 N by K. M.';

test('photos come by choosing, dropping and pasting, are stripped, and go where the builder says', async ({
  page,
  host,
}) => {
  test.setTimeout(240_000);
  const walker = await startWalkedBuild(host);
  await walker.walkTo('fit-c1');
  await openStep(page, host);
  const notes = page.getByText(/^Notes and photos of this step/);
  await notes.focus();
  await page.keyboard.press('Enter');
  const photo = withSegments(plainJpeg, { orientation: 6, text: secret });
  const photos = page.getByRole('list', { name: 'Photos' }).getByRole('img');
  await page.getByRole('textbox', { name: 'A note on this step' }).fill('The sleeve was short.');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await expect(page.getByText('The sleeve was short.', { exact: false }).first()).toBeVisible();
  // Chosen.
  await page.getByRole('textbox', { name: 'What the photo shows' }).fill('C1 from above');
  await page
    .getByLabel('Photo file')
    .setInputFiles({ name: 'c1.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(photo) });
  await expect(photos).toHaveCount(1);
  await expect(page.getByRole('img', { name: 'C1 from above' })).toBeVisible();
  // Dropped, and pasted: a large one is made smaller on the way.
  await give(page, 'drop');
  await expect(photos).toHaveCount(2);
  await give(page, 'paste');
  await expect(photos).toHaveCount(3);
  await page.getByText(/^Notes and photos of this step: 4$/).scrollIntoViewIfNeeded();
  await checkScreen(page, '40-step-notes');
  // Refused, with a reason, and the page stays.
  await page
    .getByLabel('Photo file')
    .setInputFiles({ name: 'c1.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(photo.subarray(0, 300)) });
  await expect(page.getByRole('main').getByText('This photo is not taken: it is cut off')).toBeVisible();
  await page
    .getByLabel('Photo file')
    .setInputFiles({ name: 'x.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('<svg onload="x()"/>') });
  await expect(
    page.getByRole('main').getByText('This photo is not taken: it is not a JPEG or PNG picture'),
  ).toBeVisible();
  await walker.reload();
  const { build } = walker.view.build;
  const folder = join(host.dataFolder, 'builds', build, 'photos');
  const kept = readdirSync(folder);
  expect(kept).toHaveLength(3);
  for (const file of kept) expect(readFileSync(join(folder, file)).includes(secret)).toBe(false);

  await openPage(page, 'Notes');
  await expect(photos).toHaveCount(3);
  await checkScreen(page, '41-notes-and-photos');
  await openPage(page, 'Report');
  const pages = page.getByRole('img', { name: /^Build report, page/ });
  await expect(pages.first()).toBeVisible();
  await page.getByText(/^Choose notes and photos/).click();
  await page.getByRole('checkbox', { name: 'C1 from above' }).check();
  await page.getByRole('checkbox', { name: 'The sleeve was short.' }).uncheck();
  await expect(page.locator('.paper image')).toHaveCount(1);
  await expect(page.locator('.papers')).not.toContainText('The sleeve was short.');
  await expect(page.locator('.papers')).toContainText('Left out by the builder’s choice: 1 note, 2 photos.');
  await checkScreen(page, '42-report');
  const [report] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the report (PDF)' }).click(),
  ]);
  expect(
    readFileSync(await report.path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
  const [record] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the record' }).click(),
  ]);
  const sent = JSON.parse(readFileSync(await record.path(), 'utf8')) as { photos: unknown[] };
  expect(sent.photos).toHaveLength(1);
});

test(
  'the pages on the screen are printed as the PDF is, and the bench card is one page',
  { tag: '@long' },
  async ({ page, host }) => {
    test.setTimeout(200_000);
    const walker = await startWalkedBuild(host);
    await walker.walkTo('read-v2-cold');
    await openStep(page, host);
    await openPage(page, 'Report');
    const pages = page.getByRole('img', { name: /^Build report, page/ });
    await expect(pages.first()).toBeVisible();
    const count = await pages.count();
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))).toBe(count);
    const { build } = walker.view.build;
    const report = Buffer.from(await (await host.blob('report', { build })).arrayBuffer());
    expect(pagesOf(report)).toBe(count);
    await page.getByRole('radio', { name: 'Bench card' }).check();
    const card = page.getByRole('img', { name: 'Bench card, page 1 of 1' });
    await expect(card).toBeVisible();
    // Where, range and stop limit, and a blank; the band of a reading that was not taken is nowhere.
    await expect(card).toContainText('Cathode of V2');
    await expect(card).toContainText('stop above 12');
    await expect(card).toContainText('C1');
    await expect(card).toContainText('V2 EL84, B9A, from below');
    await checkScreen(page, '43-bench-card');
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))).toBe(1);
    expect(pagesOf(Buffer.from(await (await host.blob('bench-card', { build })).arrayBuffer()))).toBe(1);
  },
);

test(
  'a question to the maker is one file, which opens at its step',
  { tag: '@long' },
  async ({ page, host }) => {
    test.setTimeout(200_000);
    const walker = await startWalkedBuild(host);
    await walker.walkTo('fit-c1');
    await openStep(page, host);
    const title = walker.view.facts.steps.find(({ id }) => id === 'fit-c1')?.title ?? '';
    await page.getByText(/^Notes and photos of this step/).click();
    await page.getByRole('button', { name: 'Ask the maker about this step' }).click();
    await expect(page.getByRole('heading', { level: 1, name: 'Ask the maker' })).toBeVisible();
    await page.getByRole('textbox', { name: /^Your question/ }).fill('Is this crack in the sleeve harmless?');
    await page.getByRole('textbox', { name: 'What the photo shows' }).fill('the crack');
    await page
      .getByLabel('Photo file')
      .setInputFiles({ name: 'c1.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(plainJpeg) });
    await expect(page.getByRole('checkbox', { name: /the crack/ })).toBeChecked();
    await checkScreen(page, '44-ask');
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the question (one file)' }).click(),
    ]);
    expect(file.suggestedFilename()).toMatch(/^heron-[0-9a-f]{8}-question\.kitwright\.json$/);
    const path = await file.path();
    await page.goto(host.url);
    await page
      .getByLabel(/record/i)
      .setInputFiles({ name: 'q.json', mimeType: 'application/json', buffer: readFileSync(path) });
    const asked = page.getByRole('region', { name: 'Question' });
    await expect(asked).toContainText('Is this crack in the sleeve harmless?');
    await expect(asked).toContainText(title);
    await expect(asked.getByRole('img', { name: 'the crack' })).toBeVisible();
    await checkScreen(page, '45-record-question');
    await page.getByRole('button', { name: 'Show its report' }).click();
    await expect(page.locator('.paper image')).toHaveCount(1);
    await expect(page.locator('.papers')).toContainText('A question to the maker');
  },
);

/** A photo of a telephone's size, given to the page as by another program. */
async function give(page: Page, how: 'drop' | 'paste'): Promise<void> {
  await page.evaluate(async (way) => {
    const canvas = document.createElement('canvas');
    canvas.width = 4000;
    canvas.height = 3000;
    const pen = canvas.getContext('2d');
    if (pen === null) throw new Error('no canvas');
    pen.fillStyle = way === 'drop' ? '#8090a0' : '#a09080';
    pen.fillRect(0, 0, 4000, 3000);
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'));
    const data = new DataTransfer();
    if (blob !== null) data.items.add(new File([blob], 'photo.png', { type: 'image/png' }));
    const event =
      way === 'drop'
        ? new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true })
        : new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
    document.body.dispatchEvent(event);
  }, how);
}

function pagesOf(pdf: Buffer): number {
  const scratch = mkdtempSync(join(tmpdir(), 'kitwright-pages-'));
  const path = join(scratch, 'paper.pdf');
  writeFileSync(path, pdf);
  const told = execFileSync('pdfinfo', [path], { encoding: 'utf8' });
  rmSync(scratch, { recursive: true });
  return Number(/Pages:\s+(\d+)/.exec(told)?.[1]);
}
