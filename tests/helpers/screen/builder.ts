import type { Locator, Page } from '@playwright/test';
import type { BuildView } from '../../../shared-core/contract/calls.ts';
import { storeAfter } from '../../../shared-core/prediction/store-after.ts';
import type { HostProcess } from '../hand-host/host-process.ts';
import { likelyEntry, seededNumbers, voltsAt } from './likely-figures.ts';
import { countdownIn, words } from './words.ts';

/** How long the screen may take to answer one action, in milliseconds (ms): a busy machine's worth. */
const patienceMs = 30_000;

/** More actions than any kit asks for at one place: the driver is going round in circles. */
const mostActions = 900;

/** What a builder types instead of the likely figure, by reading, in order. */
export type Surprises = Record<string, string[]>;

/**
 * A builder in front of the screen: looks at what it asks for, and does that.
 *
 * Knows the screen by roles and names only. Every other press is by keyboard. Figures come from the
 * app's own expectations, as they stand for a healthy amplifier.
 */
export class Builder {
  readonly page: Page;
  readonly host: HostProcess;
  readonly build: string;
  /** What was typed, by reading, in order. */
  readonly typed = new Map<string, string[]>();
  readonly surprises: Surprises = {};
  private readonly chance: () => number;
  private readonly titles: ReadonlyMap<string, string>;
  private turns = 0;
  /** What the screen looked like with a field filled in, before it was entered. */
  private filledIn: string | null = null;

  private constructor(page: Page, host: HostProcess, view: BuildView, seed: number) {
    this.page = page;
    this.host = host;
    this.build = view.build.build;
    this.chance = seededNumbers(seed);
    this.titles = new Map(
      view.kit.chapters.flatMap(({ steps }) => steps.map(({ id, title }) => [id, title] as const)),
    );
  }

  /** Takes over the build that the page shows. */
  static async takeOver(page: Page, host: HostProcess, seed = 1): Promise<Builder> {
    await page.waitForURL(/#build\//);
    const id = decodeURIComponent(/#build\/([^/]+)/.exec(page.url())?.[1] ?? '');
    return new Builder(page, host, await viewOf(host, id), seed);
  }

  get main(): Locator {
    return this.page.getByRole('main');
  }

  get bar(): Locator {
    return this.page.getByRole('banner', { name: 'Energy state' });
  }

  view(): Promise<BuildView> {
    return viewOf(this.host, this.build);
  }

  /** Goes on until the heading on the screen is that of a step, and the step is the one to do now. */
  async walkTo(step: string): Promise<void> {
    const title = this.titles.get(step);
    await this.walk(async () => {
      const heading = await this.heading();
      return heading === title && (await this.view()).currentStep === step;
    });
  }

  /** Does one thing after the other until something holds. */
  async walk(isThere: () => Promise<boolean>): Promise<void> {
    let failures = 0;
    for (let actions = 0; actions < mostActions; actions += 1) {
      if (await isThere()) return;
      const before = await this.look();
      this.filledIn = null;
      try {
        await this.doNext(before);
        await this.changed(this.filledIn ?? before);
        failures = 0;
      } catch (error) {
        failures += 1;
        if (failures > 2)
          throw new Error(`The way on is not evident:\n${await this.look()}`, { cause: error });
      }
    }
    throw new Error(`Still here after ${mostActions} actions:\n${await this.look()}`);
  }

  /** What the screen says and asks, as its accessible tree. */
  look(): Promise<string> {
    return this.main.ariaSnapshot({ timeout: patienceMs });
  }

  async heading(): Promise<string> {
    return (await this.main.getByRole('heading', { level: 1 }).textContent({ timeout: patienceMs })) ?? '';
  }

  /** The one thing that the screen asks for now. */
  private async doNext(seen: string): Promise<void> {
    this.turns += 1;
    const wait = countdownIn(seen);
    if (wait !== null) return this.host.pass(wait + 2);
    if (await this.doChecks()) return;
    const hooks = this.main.getByRole('button', { name: words.hooks });
    if (await hooks.isVisible()) return hooks.click({ timeout: patienceMs });
    if (await this.typeWhatIsAsked()) return;
    const valve = this.main.getByRole('button', { name: words.fitted });
    if (await valve.first().isVisible()) return this.fitValve(valve.first());
    const taken = this.main.getByRole('button', { name: words.takenOut });
    if (await taken.first().isVisible()) return taken.first().click({ timeout: patienceMs });
    const plugOut = this.main.getByRole('button', { name: words.plugOut });
    if (await plugOut.isVisible()) return plugOut.click({ timeout: patienceMs });
    const move = this.move();
    if ((await move.isVisible()) && (await move.getAttribute('aria-disabled')) === null)
      return this.press(move, 'Enter');
    if (await this.followHelp()) return;
    const pull = this.bar.getByRole('button', { name: words.pull });
    if (await pull.isVisible()) return this.pullThePlug();
    throw new Error('Nothing to do is in sight.');
  }

  /** The one control that goes on: the one that answers to ⏎. */
  move(): Locator {
    return this.main.locator('button[aria-keyshortcuts="Enter"]').first();
  }

  /** By keyboard and by mouse in turn. */
  async press(control: Locator, key: string): Promise<void> {
    if (this.turns % 2 === 0) await control.click({ timeout: patienceMs });
    else await this.page.keyboard.press(key);
  }

  private async doChecks(): Promise<boolean> {
    const open = this.main.getByRole('group').getByRole('checkbox', { checked: false, disabled: false });
    if ((await open.count()) === 0) return false;
    if (this.turns % 2 === 0) await open.first().click({ timeout: patienceMs });
    else {
      await open.first().focus({ timeout: patienceMs });
      await this.page.keyboard.press('Space');
    }
    return true;
  }

  private async typeWhatIsAsked(): Promise<boolean> {
    const fields = this.main.getByRole('textbox');
    const at = async (name: string | RegExp): Promise<Locator | null> => {
      const field = this.main.getByRole('textbox', { name }).first();
      return (await field.isVisible()) ? field : null;
    };
    if ((await fields.count()) === 0) return false;
    const meter = await at(words.meterShows);
    if (meter !== null) return this.takeReading(meter);
    const input = await at(words.input);
    if (input !== null) return this.takeGain(input);
    const across = await at(words.across);
    if (across !== null) return this.lookAtStore(across);
    const battery = await at(words.battery);
    if (battery !== null) return this.enter(battery, '9.12');
    const stamped = await at(words.stamped);
    if (stamped !== null) return this.enter(stamped, 'T 315 mA');
    const repair = await at(words.repair);
    if (repair !== null) {
      await this.main.getByRole('textbox', { name: words.touched }).fill('R21');
      return this.enter(repair, 'R21 was open. Soldered again.');
    }
    const signed = await at(words.signedBy);
    return signed === null ? false : this.enter(signed, 'K. M.');
  }

  private async takeReading(field: Locator): Promise<boolean> {
    const reading = await this.readingOf(words.meterShows);
    if (!(await this.move().isVisible())) return false;
    await this.host.pass(3);
    const figure = await this.figureFor(reading);
    return this.enter(field, figure, () => this.note(reading.id, figure));
  }

  private async takeGain(input: Locator): Promise<boolean> {
    const reading = await this.readingOf(words.input);
    const volts = Number((Number(await this.figureFor(reading)) * 0.05).toPrecision(4));
    await input.fill('0.05');
    const output = this.main.getByRole('textbox', { name: words.output });
    return this.enter(output, String(volts), () => this.note(reading.id, String(volts / 0.05)));
  }

  /** What to type: the surprise prepared for it, or the likely figure. */
  private async figureFor(reading: { readonly id: string; readonly in: string }): Promise<string> {
    const { build } = this;
    const surprise = this.surprises[reading.id]?.shift();
    const expectation = await this.host.call('predict.condition', { build, condition: reading.in });
    if (!expectation.ok) throw new Error(expectation.problems[0].message);
    return surprise ?? likelyEntry(expectation.value, reading.id, this.chance);
  }

  private note(reading: string, figure: string): void {
    this.typed.set(reading, [...(this.typed.get(reading) ?? []), figure]);
  }

  /** The reading that the screen asks for: by the name of its region, among those that can be taken now. */
  private async readingOf(name: string) {
    const region = this.main.getByRole('region').filter({ has: this.page.getByRole('textbox', { name }) });
    const title = await region.first().getAttribute('aria-label', { timeout: patienceMs });
    const { kit, currentStep, build } = await this.view();
    const action = kit.chapters.flatMap(({ steps }) => steps).find(({ id }) => id === currentStep)?.action;
    const asked: readonly string[] =
      action !== undefined && 'readings' in action ? (action.readings as readonly string[]) : [];
    const { energy } = build.safety;
    const live = energy.kind === 'live' ? energy.condition : null;
    const named = kit.readings.filter((reading) => reading.title === title);
    const found =
      named.find((reading) => reading.in === live) ??
      named.find(({ id }) => asked.includes(id)) ??
      named.find((reading) =>
        kit.conditions.some(({ id, supply }) => id === reading.in && supply === 'unplugged'),
      );
    if (found === undefined) throw new Error(`The screen asks for "${title}", which is no reading.`);
    return found;
  }

  private async lookAtStore(field: Locator): Promise<boolean> {
    const label = (await field.evaluate((input: HTMLInputElement) => input.labels?.[0]?.textContent)) ?? '';
    const store = words.across.exec(label)?.[1];
    await this.host.pass(4);
    const { facts, build, now } = await this.view();
    const { energy } = build.safety;
    const found = facts.stores.find(({ part }) => part === store);
    const curve = found && storeAfter(found, energy.kind === 'draining' ? energy.from : null).likely;
    const isTimeKnown = energy.kind === 'draining' && energy.timeKnown && energy.plugOut !== null;
    const volts =
      isTimeKnown && curve !== undefined && energy.plugOut !== null
        ? voltsAt(curve, (now.tick - energy.plugOut.tick) / 1000)
        : 0.31;
    return this.enter(field, String(Number(Math.max(volts, 0.31).toPrecision(3))));
  }

  private async enter(field: Locator, text: string, note?: () => void): Promise<boolean> {
    if (this.turns % 2 === 0) await field.fill(text, { timeout: patienceMs });
    else {
      await field.focus({ timeout: patienceMs });
      await field.selectText({ timeout: patienceMs });
      await this.page.keyboard.type(text);
    }
    if ((await this.move().getAttribute('aria-disabled')) !== null) {
      if (await this.followHelp()) return true;
      throw new Error(`${text} cannot be entered.`);
    }
    note?.();
    this.filledIn = await this.look();
    await this.press(this.move(), 'Enter');
    return true;
  }

  private async fitValve(button: Locator): Promise<void> {
    const within = this.page.getByRole('button', { name: words.fitted });
    const form = this.main.getByRole('region').filter({ has: within }).first();
    await form.getByRole('textbox', { name: 'Brand' }).fill('Larkfield');
    await form.getByRole('radio', { name: 'new' }).check();
    await button.click();
  }

  /** Something stands in the way, and the screen offers the way there. */
  private async followHelp(): Promise<boolean> {
    const stores = this.main.getByRole('button', { name: words.toStores }).first();
    if (await stores.isVisible()) {
      await stores.click();
      await this.measureStores();
      return true;
    }
    const there = this.main.getByRole('button', { name: words.theWay }).first();
    if (!(await there.isVisible())) return false;
    await there.click();
    return true;
  }

  /** The page of the stores of a dead amplifier: every store far below what ohms ask for. */
  private async measureStores(): Promise<void> {
    await this.host.pass(400);
    for (const { part } of (await this.view()).facts.stores) {
      await this.main.getByRole('button', { name: part, exact: true }).click();
      const field = this.main.getByRole('textbox', { name: `Across ${part}, DC` });
      await field.fill('0.12');
      await field.press('Enter');
      await this.main.getByRole('row', { name: new RegExp(`^${part} .*120`) }).waitFor();
    }
    await this.page.getByRole('button', { name: words.stepNow }).click();
  }

  /** The bar's own way: the key, the dialog, and only then the confirmation. */
  async pullThePlug(): Promise<void> {
    await this.press(this.bar.getByRole('button', { name: words.pull }), 'F9');
    const dialog = this.page.getByRole('dialog');
    await dialog.getByRole('button', { name: words.plugOut }).click({ timeout: patienceMs });
    await dialog.waitFor({ state: 'hidden', timeout: patienceMs });
  }

  /** Waits until the screen is another one; what it counts down does not count. */
  private async changed(before: string): Promise<void> {
    const plain = (text: string): string => text.replace(/\d+[\s\u202f]*(?:s|min|h)\b/g, '');
    const giveUpAt = Date.now() + patienceMs;
    while (plain(await this.look()) === plain(before) && countdownIn(before) === null) {
      if (Date.now() > giveUpAt) throw new Error('The screen did not answer.');
      await this.page.waitForTimeout(50);
    }
  }
}

async function viewOf(host: HostProcess, build: string): Promise<BuildView> {
  const opened = await host.call('build.open', { build });
  if (!opened.ok) throw new Error(opened.problems[0].message);
  return opened.value;
}
