import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import type { Page } from '@playwright/test';
import { ensureBuild } from '../../electron/bundle/ensure-build.mjs';
import { findInstalledBrowser, thisMachine } from '../helpers/find-browser.mjs';
import { HostProcess } from '../helpers/hand-host/host-process.ts';
import { likelyEntry, seededNumbers } from '../helpers/screen/likely-figures.ts';
import { startWalkedBuild } from '../helpers/screen/walked-build.ts';
import type { Walker } from '../helpers/walk-kit.ts';
import { bundleScript } from '../run/bundle-script.mjs';
import type { BenchLine } from './main.ts';

const numbers = 30;
const stepChanges = 12;

/**
 * What a builder waits for, in a real Chromium through the loopback host, with Heron: from ⏎ after a number to
 * its verdict, band and moved expectations in the picture, and from ⏎ on a finished step to the next one.
 */
export async function screenBench(): Promise<readonly BenchLine[]> {
  const built = await ensureBuild('start', { whole: true, whenStale: true });
  if (!built.ok) throw new Error(built.message);
  await bundleScript('tests/helpers/hand-host/main.ts');
  const found = findInstalledBrowser(thisMachine());
  if (!found.ok) throw new Error(found.message);
  const folder = mkdtempSync(join(tmpdir(), 'kitwright-bench-'));
  const host = new HostProcess(folder);
  await host.start();
  const browser = await chromium.launch({
    executablePath: found.path,
    args: ['--no-sandbox', '--disable-gpu'],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    const walker = await startWalkedBuild(host);
    const steps = await changeSteps(page, host, walker);
    await walker.walkTo('read-output-cathode');
    const verdicts = await enterNumbers(page, host, walker);
    return [
      ...lines('reading entered to verdict and moved bands', verdicts),
      ...lines('step done to the next one', steps),
    ];
  } finally {
    await browser.close();
    await host.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

function lines(what: string, times: readonly number[]): readonly BenchLine[] {
  const sorted = times.toSorted((one, other) => one - other);
  const middle = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  return [
    { what: `${what}, median of ${times.length}`, value: middle, unit: 'ms' },
    { what: `${what}, worst`, value: sorted.at(-1) ?? Number.NaN, unit: 'ms' },
  ];
}

/** What a picture has to show: something there, or another title than before. */
type Awaited = { readonly selector: string } | { readonly titleOtherThan: string };

/** Milliseconds (ms) from a press of ⏎ in the page to the first picture that shows what is awaited. */
async function pressToPicture(page: Page, awaited: Awaited): Promise<number> {
  // Two handles: the watching has begun before the key goes down.
  const watched = await page.evaluateHandle((what) => {
    const holds = (): boolean =>
      'selector' in what
        ? document.querySelector(what.selector) !== null
        : ![null, what.titleOtherThan].includes(document.querySelector('h1')?.textContent ?? null);
    const done = new Promise<number>((resolve) => {
      let pressed = 0;
      addEventListener('keydown', () => (pressed ||= performance.now()), { capture: true, once: true });
      const look = (): void => {
        // Drawn in the frame after the one that finds it.
        if (pressed > 0 && holds()) requestAnimationFrame(() => resolve(performance.now() - pressed));
        else requestAnimationFrame(look);
      };
      look();
    });
    return { done };
  }, awaited);
  await page.keyboard.press('Enter');
  return watched.evaluate(({ done }) => done);
}

async function goOn(page: Page, host: HostProcess): Promise<void> {
  await page.goto(host.url);
  await page.getByRole('button', { name: /^Go on with Heron/ }).click();
  await page.getByRole('banner', { name: 'Energy state' }).waitFor();
}

/** Steps of gathering and assembling, one after the other, each ticked off before. */
async function changeSteps(page: Page, host: HostProcess, walker: Walker): Promise<readonly number[]> {
  await goOn(page, host);
  const times: number[] = [];
  for (let count = 0; count < stepChanges; count += 1) {
    await walker.reload();
    const step = walker.view.facts.steps.find(({ id }) => id === walker.view.currentStep);
    if (step === undefined) throw new Error('the build is at its end');
    await page.getByRole('heading', { level: 1, name: step.title }).waitFor();
    for (const item of step.inspect.keys()) {
      await walker.do({ kind: 'step-ticked', step: step.id, item, ticked: true, by: 'hand' });
    }
    await page.locator('.step-foot button:not([aria-disabled="true"])').first().waitFor();
    // The step's own entry that it was started is on its way: the next one waits for it as it does for a builder.
    await page.waitForTimeout(300);
    times.push(await pressToPicture(page, { titleOtherThan: step.title }));
  }
  return times;
}

/** The same reading again and again, with a likely number each time. */
async function enterNumbers(page: Page, host: HostProcess, walker: Walker): Promise<readonly number[]> {
  await goOn(page, host);
  const field = page.getByRole('main').getByRole('textbox', { name: /meter shows/ });
  const { build } = walker.view.build;
  const chance = seededNumbers(7);
  const times: number[] = [];
  for (let count = 0; count < numbers; count += 1) {
    const expectation = await host.call('predict.condition', { build, condition: 'running' });
    if (!expectation.ok) throw new Error(expectation.problems[0].message);
    await field.fill(likelyEntry({ ...expectation.value, conditioned: [] }, 'v2-cathode', chance));
    times.push(await pressToPicture(page, { selector: '.band-large + .verdict-line' }));
    await page.getByRole('main').getByRole('button', { name: 'Read again' }).click();
  }
  return times;
}
