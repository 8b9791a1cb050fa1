import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { unitOfMeasure } from '../../shared-core/kit/read/to-reading.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { readMeterEntry } from '../../shared-core/units/meter-entry.ts';
import { beginHeron } from '../helpers/screen/begin-heron.ts';
import { Builder } from '../helpers/screen/builder.ts';
import type { PageGuard } from '../helpers/screen/page-guard.ts';
import { pdfText, withoutBlanks } from '../helpers/screen/pdf-text.ts';
import { expect, test } from '../helpers/screen/screen-test.ts';
import { words } from '../helpers/screen/words.ts';

test('takes Heron from the shelf to the signed report', async ({ page, host, guard }) => {
  // More than four hundred actions, each one a journal entry on disk.
  test.setTimeout(420_000);
  await test.step('options and bench', () => beginHeron(page, host));
  const builder = await Builder.takeOver(page, host);
  await test.step('gather, assemble, cold checks, insulation, lamp, no valves', () =>
    builder.walkTo('read-rectifier'));
  await test.step('a wrong reading stops the way on', () => expectWrongReadingToStop(builder));
  await test.step('killed while live, it comes back as draining', () =>
    expectKillToDrain(page, builder, guard));
  await test.step('only measuring leads from draining to dead', () => expectOnlyMeasuringToProve(builder));
  await test.step('past a stop limit there is only the plug', () => expectStopToPull(builder));
  await test.step('repair, cold checks and lamp again, all valves, signal, listening', () =>
    builder.walkTo('sign-report'));
  await builder.walk(async () => (await builder.view()).currentStep === null);
  await test.step('the report and the record', () => expectReport(page, builder));
});

async function expectWrongReadingToStop(builder: Builder): Promise<void> {
  const { main, host, build } = builder;
  // 398 V is far above what the transformer can give here, and below the stop limit of 440 V.
  builder.surprises['b1-unloaded'] = ['398'];
  await builder.walk(() => main.getByText('This reading does not fit').isVisible());
  await expect(main.getByText(/^out of band/).first()).toBeVisible();
  await expect(main.getByRole('button', { name: 'Keep' })).toHaveCount(0);
  const { build: state } = await builder.view();
  const action = { kind: 'step-done', step: 'read-rectifier', by: 'hand' } as const;
  const outcome = await host.call('build.act', { build, expectedSeq: state.seq, action });
  expect(outcome).toMatchObject({ kind: 'refused' });
  await builder.walk(async () => (await builder.view()).build.readings['b2-unloaded'] !== undefined);
  const { readings } = (await builder.view()).build;
  expect(readings['b1-unloaded']).toMatchObject({ verdict: 'as expected' });
  expect(readings['b1-unloaded']?.entries.map(({ verdict }) => verdict)).toEqual([
    'out of band',
    'as expected',
  ]);
}

async function expectKillToDrain(page: Page, builder: Builder, guard: PageGuard): Promise<void> {
  const { bar, main, host } = builder;
  await expect(bar).toContainText('Live');
  guard.setHostAway(true);
  await host.kill();
  await expect(bar).toContainText(words.unknown);
  await expect(bar).toContainText('treat as live');
  await host.start();
  await page.goto(host.url);
  guard.setHostAway(false);
  await expect(page.getByText('draining: treat as live')).toBeVisible();
  await page.getByRole('button', { name: /^Go on with Heron/ }).click();
  await expect(main.getByRole('heading', { level: 1, name: 'Is the plug out?' })).toBeVisible();
  await expect(bar).toContainText('Draining');
  await expect(bar).toContainText('time unknown');
  const { energy } = (await builder.view()).build.safety;
  expect(energy).toMatchObject({ kind: 'draining', timeKnown: false });
  await main.getByRole('button', { name: words.plugOut }).click();
}

async function expectOnlyMeasuringToProve(builder: Builder): Promise<void> {
  const { bar, main, page, host, build } = builder;
  await expect(main.getByRole('heading', { level: 1, name: 'Prove every store empty' })).toBeVisible();
  // An hour less a little: waiting proves nothing.
  await host.pass(3000);
  await expect(bar).toContainText('Draining');
  await page
    .getByRole('navigation', { name: 'Build' })
    .getByRole('button', { name: /^Repair/ })
    .click();
  await main.getByRole('textbox', { name: 'What was done' }).fill('A joint touched up');
  await expect(main.getByRole('button', { name: 'Write the work down' })).toBeDisabled();
  const touched = { what: 'A joint', places: [], mainsSide: false, soldering: true } as const;
  const action = { kind: 'work-inside', ...touched, by: 'hand' } as const;
  const { seq } = (await builder.view()).build;
  expect(await host.call('build.act', { build, expectedSeq: seq, action })).toMatchObject({
    kind: 'refused',
  });
  await page.getByRole('button', { name: words.stepNow }).click();
  // The black lead and the meter first, then four stores twice, then the meter again.
  const battery = main.getByRole('textbox', { name: words.battery });
  await builder.walk(() => battery.isVisible());
  await builder.walk(async () => (await builder.view()).build.safety.energy.kind === 'dead');
  await expect(bar).toContainText('Drained');
  const drain = (await builder.view()).build.drains.at(-1);
  const stores = drain?.looks.map(({ store }) => store) ?? [];
  expect([...new Set(stores)].toSorted()).toEqual(['C1', 'C2', 'C3', 'C4']);
  expect(stores).toHaveLength(8);
  expect(drain?.provenAt).not.toBeNull();
}

async function expectStopToPull(builder: Builder): Promise<void> {
  const { main, bar } = builder;
  builder.surprises['v2-cathode'] = ['13.1'];
  const pull = main.getByRole('heading', { level: 1, name: 'Pull the plug now' });
  await builder.walk(() => pull.isVisible());
  await expect(main.getByRole('button')).toHaveCount(1);
  await expect(main.getByRole('textbox')).toHaveCount(0);
  await main.getByRole('button', { name: words.plugOut }).click();
  await expect(bar).toContainText('Draining');
  await builder.walk(async () => (await builder.view()).build.repairs.length > 0);
  expect((await builder.view()).build.stops).toMatchObject([{ reading: 'v2-cathode', typed: '13.1' }]);
}

async function expectReport(page: Page, builder: Builder): Promise<void> {
  const view = await builder.view();
  expect(view.build.signature).toMatchObject({ name: 'K. M.' });
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const text = pdfText(await save(page, 'Save the report (PDF)'));
  const missing = view.kit.readings.flatMap(({ id, title, measure }) => {
    const typed = builder.typed.get(id) ?? [];
    expect(typed, `${id} was never asked for`).not.toEqual([]);
    const unit = unitOfMeasure(measure);
    const shown = typed.map((each) => {
      const read = readMeterEntry(each, unit);
      return read.ok && read.entry.kind === 'value' ? formatQuantity(read.entry.value, unit) : 'OL';
    });
    return [title, ...shown].filter((each) => !text.includes(withoutBlanks(each)));
  });
  expect(missing).toEqual([]);
  for (const told of ['K. M.', 'R21 was open', 'time unknown']) expect(text).toContain(withoutBlanks(told));
  const record = JSON.parse(readFileSync(await save(page, 'Save the record'), 'utf8')) as {
    readonly format: string;
    readonly together?: { readonly words: string };
  };
  expect(record.format).toBe('kitwright-record/1');
  // The sentence begins alike in the record, in the report and on the page of the readings.
  const together = (record.together?.words ?? 'not computed').slice(0, 40);
  // Which of the two it is depends on how the typed values were rounded: the primary's ohms can stand out.
  expect(together).toMatch(/^(Taken together, these|Each of these) \d+ readings/);
  expect(text).toContain(withoutBlanks(together));
  await page.getByRole('button', { name: 'Readings', exact: true }).click();
  await expect(page.getByText(together).first()).toBeVisible({ timeout: 20_000 });
}

/** Presses a button that saves a file, and gives the path of what was saved. */
async function save(page: Page, name: string): Promise<string> {
  const saved = page.waitForEvent('download');
  await page.getByRole('button', { name }).click();
  return (await saved).path();
}
