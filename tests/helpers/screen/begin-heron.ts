import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';
import type { HostProcess } from '../hand-host/host-process.ts';
import { words } from './words.ts';

/** From the shelf through the options to the bench, and on to the first step. */
export async function beginHeron(page: Page, host: HostProcess): Promise<void> {
  await page.goto(host.url);
  await page.getByRole('button', { name: words.begin }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Heron' })).toBeVisible();
  await page.getByRole('radio', { name: '230 V 50 Hz' }).check();
  await page.getByRole('button', { name: words.beginBuild }).click();
  await setUpBench(page);
}

/** A bench that meets every gate: measured mains, a CAT II meter, lamp, battery, tester. */
export async function setUpBench(page: Page): Promise<void> {
  await expect(page.getByRole('heading', { level: 1, name: 'Your bench' })).toBeVisible();
  const field = (name: string) => page.getByRole('textbox', { name, exact: true });
  await field('Voltage').fill('236');
  await page.getByRole('radio', { name: /^measured/ }).check();
  await field('What you call it').fill('Bench meter');
  await field('Rated to, DC').fill('1000');
  await page.getByRole('radio', { name: 'CAT III' }).check();
  await field('Rated to').fill('1000');
  await field('Probes touching').fill('0,2');
  await field('Filament lamp of the limiter').fill('60');
  await field('Battery, as marked').fill('9');
  await page.getByRole('radio', { name: 'yes' }).check();
  await page.getByRole('button', { name: words.benchDone }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Your bench' })).toBeHidden();
}
