import type { Verdict } from '../../shared-core/bands/verdict.ts';
import type { JudgedReading } from '../../shared-core/contract/calls.ts';
import type { StepFacts } from '../../shared-core/safety/facts.ts';
import { isPassedOrAccepted, readingsOfStep } from '../../shared-core/safety/lookup.ts';
import { dcSetup, mustHave } from './hand.ts';
import type { Hand } from './hand.ts';
import type { InventedMeter } from './invented-meter.ts';

/** Something typed other than what a healthy amplifier shows. */
export type Incident = (judged: JudgedReading) => Promise<void>;

/** What the builder of the demo does differently from a faultless one. */
export interface Plot {
  /** Reading to what is typed the first time, and what follows. */
  readonly wrong: Record<string, { readonly typed: string; readonly after: Incident } | undefined>;
  /** Done before a step is begun, once. */
  readonly before: Record<string, (() => Promise<void>) | undefined>;
}

const goodVerdicts: ReadonlySet<Verdict> = new Set<Verdict>(['as expected', 'borderline', 'not predicted']);

/** An invented builder who follows the kit step by step. */
export class Walk {
  private readonly hand: Hand;
  private readonly meter: InventedMeter;
  private readonly plot: Plot;
  private readonly occasions = new Map<string, number>();

  constructor(hand: Hand, meter: InventedMeter, plot: Plot) {
    this.hand = hand;
    this.meter = meter;
    this.plot = plot;
  }

  /** Goes on until no step is left. */
  async toTheEnd(): Promise<void> {
    for (let step = this.current(); step !== null; step = this.current()) {
      const before = this.plot.before[step.id];
      delete this.plot.before[step.id];
      if (before !== undefined) await before();
      else await this.step(step);
    }
  }

  private current(): StepFacts | null {
    const { facts, currentStep } = this.hand.view;
    return facts.steps.find(({ id }) => id === currentStep) ?? null;
  }

  private async step(step: StepFacts): Promise<void> {
    const { hand } = this;
    const { action, id } = step;
    if (action.kind === 'switch-on') {
      await this.plugIn(action.condition, id);
      if (this.current()?.id === id) await hand.act({ kind: 'step-done', by: 'hand', step: id });
      return;
    }
    if (action.kind === 'switch-off') await this.pullThePlug();
    else if (step.reach === 'inside' || action.kind === 'drain') await this.makeDead();
    else if (this.isLive(step.condition)) await this.plugIn(step.condition ?? '', null);
    if (step.reach === 'inside' && action.kind === 'assemble') await this.letDrainBelow(5);
    const wasDone = hand.view.build.steps[id]?.status === 'done';
    if (!wasDone) await hand.act({ kind: 'step-started', by: 'hand', step: id });
    await this.pass(step);
    for (const caution of step.cautions)
      await hand.act({ kind: 'caution-acknowledged', by: 'hand', caution: caution.id, text: caution.text });
    for (const [item] of step.inspect.entries()) {
      hand.wait(4);
      await hand.act({ kind: 'step-ticked', by: 'hand', step: id, item, ticked: true });
    }
    if (action.kind === 'fuse') await this.readFuse(action.part);
    if (action.kind === 'sign') return this.sign(id);
    if (action.kind !== 'compare') {
      for (const reading of readingsOfStep(step)) {
        const isHeld = action.kind !== 'soak' && isPassedOrAccepted(reading, hand.view.build.safety);
        if (!isHeld && !(await this.read(reading))) return;
      }
    }
    await hand.act({ kind: 'step-done', by: 'hand', step: id });
  }

  /** Time passes: minutes for soldering, seconds for looking. */
  private async pass({ id, action }: StepFacts): Promise<void> {
    const minutes = { gather: 6, assemble: 11, listen: 12 } as const;
    if (action.kind === 'soak') return this.hand.wait(action.seconds);
    const own = action.kind === 'gather' || action.kind === 'assemble' || action.kind === 'listen';
    this.hand.wait(this.meter.about(own ? minutes[action.kind] * 60 : 20, id));
    return Promise.resolve();
  }

  /** Takes one reading; false when it went another way than the kit's. */
  private async read(reading: string): Promise<boolean> {
    const { hand } = this;
    const facts = hand.view.facts.readings.find(({ id }) => id === reading);
    if (facts === undefined) throw new Error(`There is no reading ${reading}`);
    if (facts.joinedStores.length > 0 && !this.isLive(facts.in)) await this.letDrainBelow(0.5);
    const prediction = mustHave(
      await hand.calls['predict.condition']({ build: hand.view.build.build, condition: facts.in }),
    ).conditioned.find(({ id }) => id === reading);
    if (prediction === undefined) throw new Error(`No prediction of ${reading}`);
    const wrong = this.plot.wrong[reading];
    delete this.plot.wrong[reading];
    const occasion = this.occasions.get(reading) ?? 0;
    this.occasions.set(reading, occasion + 1);
    const isWarming = wrong === undefined && this.isLive(facts.in);
    hand.wait(isWarming ? this.secondsToReady(facts.in) : 12);
    const typed = wrong?.typed ?? this.meter.reading(prediction, occasion);
    const judged = await hand.act({ kind: 'enter-reading', by: 'hand', reading, typed, corrects: null });
    if (judged === null) throw new Error(`${reading} was not judged`);
    if (wrong === undefined && !goodVerdicts.has(judged.verdict))
      throw new Error(`${reading}, typed ${typed}: ${judged.words}`);
    if (wrong === undefined) return true;
    await wrong.after(judged);
    return false;
  }

  private secondsToReady(condition: string): number {
    const { facts, build } = this.hand.view;
    const readyAfter = facts.conditions.find(({ id }) => id === condition)?.readyAfterSeconds ?? 0;
    const { energy } = build.safety;
    const since = energy.kind === 'live' ? (this.hand.now.tick - energy.since.tick) / 1000 : 0;
    return Math.max(readyAfter - since, 0) + 14;
  }

  private isDead(): boolean {
    return this.hand.view.build.safety.energy.kind === 'dead';
  }

  private isLive(condition: string | null): boolean {
    const own = this.hand.view.facts.conditions.find(({ id }) => id === condition);
    return own !== undefined && own.supply !== 'unplugged';
  }

  /** Everything that is confirmed just before the plug goes in, then the plug. */
  async plugIn(condition: string, step: string | null): Promise<void> {
    const { hand } = this;
    const { energy } = hand.view.build.safety;
    if (energy.kind === 'live' && energy.condition === condition) return;
    await this.makeDead();
    const own = hand.view.facts.conditions.find(({ id }) => id === condition);
    if (hand.view.build.safety.afterWork?.lookedOver === false)
      await hand.act({ kind: 'looked-over', by: 'hand' });
    if (hand.view.build.probeStyle === null)
      await hand.act({ kind: 'probe-style-chosen', by: 'hand', style: 'hooks' });
    if (!hand.view.build.safety.blackLeadClipped) await hand.act({ kind: 'black-lead-clipped', by: 'hand' });
    for (const { id, text } of own?.cautions ?? []) {
      hand.wait(4);
      await hand.act({ kind: 'caution-acknowledged', by: 'hand', caution: id, text });
    }
    await hand.act({ kind: 'red-lead-in-volts', by: 'hand' });
    await hand.act({ kind: 'mains-switch-off', by: 'hand' });
    hand.wait(8);
    await hand.act({ kind: 'plugged-in', by: 'hand', condition, step });
  }

  async pullThePlug(): Promise<void> {
    if (this.isDead()) return;
    this.hand.wait(9);
    await this.hand.act({ kind: 'plug-out-confirmed', by: 'hand' });
  }

  /** Plug out, meter shown, every store twice, meter shown again. */
  async makeDead(): Promise<void> {
    const { hand } = this;
    if (this.isDead()) return;
    const { energy } = hand.view.build.safety;
    if (energy.kind === 'live' || (energy.kind === 'draining' && energy.plugOut === null))
      await this.pullThePlug();
    if (!hand.view.build.safety.blackLeadClipped) await hand.act({ kind: 'black-lead-clipped', by: 'hand' });
    await this.showMeter();
    for (let round = 0; !this.hasBothLooks() && round < 12; round += 1) {
      if (round > 0) hand.wait(6);
      await this.lookAtAll();
    }
    await this.showMeter();
    if (hand.view.build.safety.energy.kind !== 'dead')
      throw new Error('The stores could not be proven empty');
  }

  private hasBothLooks(): boolean {
    const { facts, build } = this.hand.view;
    const { energy } = build.safety;
    return (
      energy.kind === 'draining' && facts.stores.every(({ part }) => energy.stores[part]?.second != null)
    );
  }

  private async showMeter(): Promise<void> {
    this.hand.wait(6);
    await this.hand.act({ kind: 'meter-shown-to-work', by: 'hand', setup: dcSetup, volts: 9.27 });
  }

  private async lookAtAll(): Promise<void> {
    for (const { part } of this.hand.view.facts.stores) await this.look(part);
  }

  private async look(part: string): Promise<void> {
    const { hand } = this;
    hand.wait(5);
    const volts = this.storeVolts(part);
    await hand.act({
      kind: 'store-look',
      by: 'hand',
      store: part,
      volts,
      setup: dcSetup,
      enteredAfterMs: 4200,
    });
    const { energy } = hand.view.build.safety;
    if (energy.kind !== 'draining' || energy.stores[part]?.needsChecks !== true) return;
    const answers = { place: true, dcFunction: true, range: true, hold: true, leads: true };
    await hand.act({ kind: 'look-checked', by: 'hand', store: part, ...answers });
  }

  /** What the invented amplifier still holds: nothing while no rectifier was ever in it. */
  private storeVolts(part: string): number {
    const { facts, build } = this.hand.view;
    const { wallMs } = this.hand.now;
    const store = facts.stores.find((each) => each.part === part);
    const charged = build.plugIns.findLast(({ condition }) => {
      const fitted = facts.conditions.find(({ id }) => id === condition)?.fitted ?? [];
      return fitted === 'all' || fitted.length > 0;
    });
    if (store === undefined) throw new Error(`There is no store ${part}`);
    if (charged === undefined) return this.meter.store(store, null, 0);
    const outMs = charged.outAt === null ? wallMs : Date.parse(charged.outAt);
    const isHot = facts.conditions.find(({ id }) => id === charged.condition)?.fitted === 'all';
    return this.meter.store(store, (wallMs - outMs) / 1000, isHot ? 0.05 : 0);
  }

  /** Waits and measures until every store is below so many volts (V). */
  private async letDrainBelow(volts: number): Promise<void> {
    const { safety } = this.hand.view.build;
    if (!safety.everPluggedIn) return;
    const { stores } = this.hand.view.facts;
    const isBelow = (): boolean =>
      stores.every(({ part }) => (this.hand.view.build.safety.deadVolts[part] ?? Infinity) < volts);
    for (let round = 0; !isBelow() && round < 8; round += 1) {
      this.hand.wait(120);
      await this.lookAtAll();
    }
  }

  /** Work inside that no step asks for, with the iron. */
  async soldering(what: string, places: readonly string[]): Promise<void> {
    await this.letDrainBelow(5);
    this.hand.wait(1500);
    await this.hand.act({ kind: 'work-inside', by: 'hand', what, places, mainsSide: false, soldering: true });
  }

  private async readFuse(part: string): Promise<void> {
    const fuse = this.hand.view.facts.fuses.find((each) => each.part === part);
    if (fuse === undefined) throw new Error(`There is no fuse ${part}`);
    const { amps, speed } = fuse;
    const typed = `${speed} ${amps * 1000} mA`;
    await this.hand.act({ kind: 'fuse-read', by: 'hand', part, amps, speed, typed });
  }

  private async sign(step: string): Promise<void> {
    await this.hand.act({ kind: 'signed', by: 'hand', name: 'J. M.' });
    await this.hand.act({ kind: 'step-done', by: 'hand', step });
  }
}
