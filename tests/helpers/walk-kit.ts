import type { ActOutcome, BuilderAction, BuildView } from '../../shared-core/contract/calls.ts';
import type { ReadingPrediction } from '../../shared-core/prediction/prediction.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import type { StepFacts } from '../../shared-core/safety/facts.ts';
import { safetyAt } from '../../shared-core/safety/safety.ts';
import { dcSetup } from './journey.ts';
import { valveEvents } from './match-valves.ts';
import type { TestHost } from './start-host.ts';

/** A bench that meets every gate of the kits. */
export const walkBench: Bench = {
  mains: { volts: 230, hertz: 50, source: 'measured' },
  meter: {
    label: 'digital, 10 MΩ',
    input: { kind: 'fixed', ohms: 10e6 },
    accuracy: { dcVolts: 0.01, acVolts: 0.015, ohms: 0.01 },
    ratedVolts: 1000,
    category: 'CAT II',
  },
  leads: { ratedVolts: 1000, ohms: 0.2 },
  lampWatts: 60,
  batteryVolts: 9,
  hasInsulationTester: true,
};

/** What a walk needs of a host, in this process or in another one. */
export type WalkedHost = Pick<TestHost, 'call' | 'pass'>;

/** A builder who does what each step says, over the host's own calls, and reads what is predicted. */
export class Walker {
  readonly host: WalkedHost;
  view: BuildView;

  constructor(host: WalkedHost, view: BuildView) {
    this.host = host;
    this.view = view;
  }

  /** Does one thing; throws with the refusals when it is refused. */
  async do(action: BuilderAction): Promise<Extract<ActOutcome, { kind: 'done' }>> {
    const outcome = await this.ask(action);
    if (outcome.kind === 'done') return outcome;
    const why = outcome.kind === 'refused' ? outcome.refusals.map(({ message }) => message).join(' ') : '';
    const problems =
      outcome.kind === 'problem' ? outcome.problems.map(({ message }) => message).join(' ') : '';
    throw new Error(
      `${JSON.stringify(action)} at ${this.view.currentStep}: ${outcome.kind} ${why}${problems}`,
    );
  }

  /** Asks for one thing and takes the answer as it is. */
  async ask(action: BuilderAction): Promise<ActOutcome> {
    const { build, seq } = this.view.build;
    const outcome = await this.host.call('build.act', { build, expectedSeq: seq, action });
    if (outcome.kind !== 'problem') this.view = outcome.view;
    return outcome;
  }

  /** Opens the build again: what a screen does after the host told of a change. */
  async reload(): Promise<void> {
    const opened = await this.host.call('build.open', { build: this.view.build.build });
    if (!opened.ok) throw new Error(opened.problems[0].message);
    this.view = opened.value;
  }

  /** The energy state as it stands now. */
  energy() {
    return safetyAt(this.view.build.safety, this.view.now).energy;
  }

  /** Goes step by step until the step named is the one to do, or all are done. */
  async walkTo(step: string | null): Promise<void> {
    for (let steps = 0; steps < 300; steps += 1) {
      const current = this.view.facts.steps.find(({ id }) => id === this.view.currentStep);
      if (!current || current.id === step) return;
      await this.doStep(current);
    }
    throw new Error(`Still at ${this.view.currentStep} after 300 steps`);
  }

  private async doStep(step: StepFacts): Promise<void> {
    const { action } = step;
    const { id } = step;
    const needsDead = step.reach === 'inside' || action.kind === 'switch-on';
    if (needsDead && this.energy().kind === 'draining') await this.proveDead();
    for (const { id: caution, text } of step.cautions)
      await this.do(by({ kind: 'caution-acknowledged', caution, text }));
    if (action.kind === 'switch-on') return this.plugIn(action.condition, id);
    await this.do(by({ kind: 'step-started', step: id }));
    for (const item of step.inspect.keys())
      await this.do(by({ kind: 'step-ticked', step: id, item, ticked: true }));
    await this.doAction(step);
    if (this.view.facts.steps.find((each) => each.id === this.view.currentStep)?.id === id) {
      await this.do(by({ kind: 'step-done', step: id }));
    }
  }

  private async doAction({ action }: StepFacts): Promise<void> {
    switch (action.kind) {
      case 'fuse': {
        const fuse = this.view.facts.fuses.find(({ part }) => part === action.part);
        if (!fuse) throw new Error(`No fuse ${action.part}`);
        await this.do(
          by({
            kind: 'fuse-read',
            part: fuse.part,
            amps: fuse.amps,
            speed: fuse.speed,
            typed: `${fuse.speed}${fuse.amps}`,
          }),
        );
        return;
      }
      case 'switch-off':
        await this.do(by({ kind: 'plug-out-confirmed' }));
        return;
      case 'drain':
        return this.proveDead();
      case 'read':
      case 'signal':
      case 'compare':
        for (const reading of action.readings) await this.read(reading);
        return;
      case 'soak':
        await this.host.pass(action.seconds * 1000);
        for (const reading of action.readings) await this.read(reading);
        return;
      case 'adjust':
        return this.read(action.reading);
      default:
        return;
    }
  }

  async plugIn(condition: string, step: string | null): Promise<void> {
    const facts = this.view.facts.conditions.find(({ id }) => id === condition);
    const { safety } = this.view.build;
    if (safety.energy.kind === 'dead') await this.matchValves(condition);
    if (!safety.blackLeadClipped) await this.do(by({ kind: 'black-lead-clipped' }));
    if (safety.probeStyle === null) await this.do(by({ kind: 'probe-style-chosen', style: 'hooks' }));
    for (const { id, text } of facts?.cautions ?? [])
      await this.do(by({ kind: 'caution-acknowledged', caution: id, text }));
    await this.do(by({ kind: 'red-lead-in-volts' }));
    await this.do(by({ kind: 'mains-switch-off' }));
    await this.do(by({ kind: 'plugged-in', condition, step }));
    await this.host.pass((facts?.readyAfterSeconds ?? 0) * 1000 + 1000);
  }

  /** Types what is predicted. */
  async read(reading: string): Promise<void> {
    const facts = this.view.facts.readings.find(({ id }) => id === reading);
    const expectation = await this.host.call('predict.condition', {
      build: this.view.build.build,
      condition: facts?.in ?? '',
    });
    if (!expectation.ok) throw new Error(expectation.problems[0].message);
    const predicted = expectation.value.prediction.readings.find(({ id }) => id === reading);
    if (!predicted) throw new Error(`No prediction of ${reading}`);
    await this.host.pass(3000);
    if (facts?.readsLikeOpen === true && !this.view.build.safety.probeShown) await this.showMeter();
    await this.do({ kind: 'enter-reading', by: 'hand', reading, typed: typedOf(predicted), corrects: null });
  }

  /** The whole drain: black lead, meter shown, both looks a minute apart, meter shown. */
  async proveDead(volts = 0.1): Promise<void> {
    const { energy, blackLeadClipped } = this.view.build.safety;
    if (energy.kind === 'draining' && energy.plugOut === null)
      await this.do(by({ kind: 'plug-out-confirmed' }));
    if (!blackLeadClipped) await this.do(by({ kind: 'black-lead-clipped' }));
    await this.showMeter();
    // The likely and the slow curve are then below anything a meter shows.
    await this.host.pass(200_000);
    await this.lookAtAll(volts);
    await this.host.pass(61_000);
    await this.lookAtAll(volts);
    await this.showMeter();
  }

  private async showMeter(): Promise<void> {
    await this.host.pass(5000);
    await this.do(by({ kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1 }));
  }

  private async lookAtAll(volts: number): Promise<void> {
    for (const { part: store } of this.view.facts.stores) {
      await this.host.pass(5000);
      await this.do(by({ kind: 'store-look', store, volts, setup: dcSetup, enteredAfterMs: 5000 }));
      const { energy } = this.view.build.safety;
      const asks = energy.kind === 'draining' && energy.stores[store]?.needsChecks === true;
      const all = { place: true, dcFunction: true, range: true, hold: true, leads: true };
      if (asks) await this.do(by({ kind: 'look-checked', store, ...all }));
    }
  }

  /** Records the sockets as the condition wants them, with the kit's own types. */
  private async matchValves(condition: string): Promise<void> {
    const { view } = this;
    const typeOf = (socket: string): string => {
      const part = view.kit.parts.find(({ id }) => id === socket);
      return part?.kind === 'valve' ? part.type : '';
    };
    for (const event of valveEvents(view.build.safety, view.facts, condition, typeOf)) await this.do(event);
  }
}

/** By hand. */
function by<Event extends object>(event: Event): Event & { readonly by: 'hand' } {
  return { ...event, by: 'hand' };
}

function typedOf({ predicted, nominal, low, high, stopAbove }: ReadingPrediction): string {
  if (predicted === 'overload') return 'OL';
  if (nominal !== null) return String(Number(nominal.toPrecision(5)));
  if (low !== null && high !== null) return String((low + high) / 2);
  if (high !== null) return String(high / 2);
  if (low !== null) return String(low * 5);
  // Nothing is predicted: well below where to stop.
  return String((stopAbove ?? 1) * 0.75);
}
