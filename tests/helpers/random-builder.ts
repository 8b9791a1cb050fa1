import fc from 'fast-check';
import type { SafetyEvent } from '../../shared-core/safety/events.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { SafetyState, StartedFrom } from '../../shared-core/safety/energy-state.ts';
import type { Rulebook } from '../../shared-core/safety/guard.ts';
import { initialSafety } from '../../shared-core/safety/initial-safety.ts';
import { lapseWith } from '../../shared-core/safety/lapse.ts';
import { foldWith, refusalsWith } from '../../shared-core/safety/machine.ts';
import { reachRefusalsOf } from '../../shared-core/safety/reach.ts';
import { fakeClock } from './fake-clock.ts';
import { finchBench } from './finch.ts';
import { holdsProof, RealAmplifier, unmetGates, type Told } from './energy-oracle.ts';
import { dcSetup, enter, eventFrom, makeReady, proveDead, type Actor } from './journey.ts';
import { buildFinch, passGate } from './scripted-safety.ts';

/** Events that say a hand is inside. */
const handsIn: ReadonlySet<string> = new Set(['work-inside', 'looked-over', 'repaired']);

const stores = fc.constantFrom('C1', 'C2');
const conditions = fc.constantFrom('lamp', 'rectifier', 'running');
const means = fc.oneof(
  { weight: 12, arbitrary: fc.constant('hand' as const) },
  { weight: 1, arbitrary: fc.constantFrom('voice' as const, 'foot' as const, 'repeat' as const) },
);

/** One thing that somebody does, in any order; `advance` is the next sensible thing. */
export const action = fc.oneof(
  { weight: 16, arbitrary: fc.record({ does: fc.constant('advance') }) },
  {
    weight: 8,
    arbitrary: fc.record({ does: fc.constant('wait'), seconds: fc.constantFrom(1, 5, 30, 62, 300, 3700) }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('restart'), meddled: fc.boolean() }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('sleep'), meddled: fc.boolean() }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant('build') }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant('gate') }) },
  {
    weight: 6,
    arbitrary: fc.record({ does: fc.constant('plug'), condition: conditions, isReady: fc.boolean() }),
  },
  { weight: 6, arbitrary: fc.record({ does: fc.constant('pull'), by: means }) },
  {
    weight: 8,
    arbitrary: fc.record({ does: fc.constant('look'), store: stores, by: means, checks: fc.boolean() }),
  },
  { weight: 5, arbitrary: fc.record({ does: fc.constant('battery') }) },
  { weight: 4, arbitrary: fc.record({ does: fc.constant('prove') }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('clip'), store: stores, isOn: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('meter'), isBroken: fc.boolean() }) },
  { weight: 5, arbitrary: fc.record({ does: fc.constant('read'), isGood: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('work'), mainsSide: fc.boolean() }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('mend') }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('alarm') }) },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('valve'),
      socket: fc.constantFrom('V2', 'V3'),
      isIn: fc.boolean(),
    }),
  },
);
export type Action = typeof action extends fc.Arbitrary<infer Value> ? Value : never;

/**
 * A builder who does things in any order but honestly: the plug goes in only when the app accepted it, a
 * look is what the meter shows. While the app is closed or asleep anybody may plug the amplifier in.
 */
export class RandomBuilder implements Actor {
  readonly facts: SafetyFacts;
  readonly clock = fakeClock();
  readonly amp: RealAmplifier;
  readonly told: Told[] = [];
  /** What the oracle found wrong. */
  readonly faults: string[] = [];
  #state: SafetyState;
  readonly #rules: Rulebook;
  readonly #isLoose: boolean;

  constructor(startedFrom: StartedFrom, facts: SafetyFacts, rules: Rulebook) {
    this.facts = facts;
    this.#rules = rules;
    this.#isLoose = startedFrom === 'loose parts';
    this.#state = initialSafety(startedFrom);
    this.amp = new RealAmplifier(
      facts.stores.map((each) => each.part),
      this.#isLoose ? 0 : 300,
    );
    this.do('bench-recorded', { bench: finchBench });
  }

  safety = (): SafetyState => this.#state;

  wait = (seconds: number): void => {
    this.clock.wait(seconds);
    this.amp.pass(seconds);
    this.#check();
  };

  /** Offers an event; what is refused simply does not happen. */
  do: Actor['do'] = (kind, ...fields) => {
    this.offer(eventFrom(kind, fields[0]) as SafetyEvent);
  };

  offer(event: SafetyEvent): boolean {
    const stamp = this.clock.now();
    const before = this.#state;
    const isAccepted = refusalsWith(this.#rules, before, event, stamp, this.facts).length === 0;
    if (isAccepted && event.kind === 'plugged-in') {
      const unmet = unmetGates(this.told, event.condition, stamp, this.facts, this.#isLoose);
      if (unmet.length > 0) this.faults.push(`plugged in with ${unmet.join(', ')}`);
    }
    this.#state = foldWith(this.#rules, before, event, stamp, this.facts);
    if (isAccepted) this.told.push({ event, stamp });
    if (isAccepted && handsIn.has(event.kind) && !this.amp.isSafeInside(this.facts.safeVolts)) {
      this.faults.push(`${event.kind} while dangerous`);
    }
    if (isAccepted && event.kind === 'plugged-in') this.amp.plug(true);
    if (isAccepted && event.kind === 'clip-fitted') this.amp.clip(event.store, true);
    if (isAccepted && event.kind === 'clip-removed') this.amp.clip(event.store, false);
    if (before.energy.kind !== 'dead' && this.#state.energy.kind === 'dead') {
      if (!holdsProof(this.told, stamp, this.facts)) this.faults.push('dead without a proof');
    }
    this.#check();
    return isAccepted;
  }

  #check(): void {
    const now = lapseWith(this.#rules.lapses, this.#state, this.clock.now(), null);
    const mayInside = reachRefusalsOf(now, 'inside').length === 0;
    if (mayInside && !this.amp.isSafeInside(this.facts.safeVolts)) this.faults.push('inside while dangerous');
  }

  /** Anybody plugs the amplifier in, once it has been plugged in before. */
  #meddle(meddled: boolean): void {
    if (meddled && this.#state.everPluggedIn) this.amp.plug(true);
  }

  act(what: Action): void {
    switch (what.does) {
      case 'advance':
        return this.#advance();
      case 'wait':
        return this.wait((what as { seconds: number }).seconds);
      case 'restart':
        this.clock.restart();
        this.#meddle((what as { meddled: boolean }).meddled);
        return void this.offer({ kind: 'run-started' });
      case 'sleep':
        this.clock.jump(600);
        this.#meddle((what as { meddled: boolean }).meddled);
        return;
      case 'build':
        return buildFinch(this);
      case 'gate':
        return passGate(this);
      case 'plug': {
        const { condition, isReady } = what as { condition: string; isReady: boolean };
        if (isReady) makeReady(this, condition);
        return void this.offer({ kind: 'plugged-in', by: 'hand', condition, step: null });
      }
      default:
        return this.#actOnStores(what);
    }
  }

  /** The next sensible thing: prove, build and pass the gate, plug in, read, pull. */
  #advance(): void {
    const { energy, plugIns } = this.#state;
    if (energy.kind === 'draining') {
      this.amp.plug(false);
      this.wait(200);
      return proveDead(this, (store) => this.amp.shows(store));
    }
    if (energy.kind === 'live') {
      this.wait(70);
      this.act({ does: 'read', isGood: true } as Action);
      if (this.facts.readings.some(({ id }) => this.#state.readings[id]?.counts === true)) {
        this.amp.plug(false);
        this.do('plug-out-confirmed');
      }
      return;
    }
    for (const { part } of this.facts.stores) this.do('clip-removed', { store: part });
    const isOpen = (step: string): boolean => this.#state.steps[step]?.status !== 'done';
    for (const step of ['gather', 'wire-mains', 'wire-ht', 'fit-v3'].filter(isOpen))
      this.do('step-done', { step });
    this.do('step-ticked', { step: 'look', item: 0, ticked: true });
    this.do('step-ticked', { step: 'look', item: 1, ticked: true });
    this.do('looked-over');
    for (const reading of Object.keys(this.#state.readings)) {
      if (this.facts.readings.find((each) => each.id === reading)?.in === 'cold') enter(this, reading);
    }
    passGate(this);
    for (const { id } of this.facts.steps.filter((each) => isOpen(each.id)))
      this.do('step-done', { step: id });
    const next = ['lamp', 'rectifier', 'running'].find((each) => (plugIns[each] ?? 0) === 0) ?? 'running';
    const condition = this.#state.afterWork === null ? next : 'lamp';
    makeReady(this, condition);
    this.offer({ kind: 'plugged-in', by: 'hand', condition, step: null });
  }

  #actOnStores(what: Action): void {
    switch (what.does) {
      case 'pull':
        this.amp.plug(false);
        return void this.offer({ kind: 'plug-out-confirmed', by: (what as { by: 'hand' }).by });
      case 'look': {
        const { store, by, checks } = what as { store: string; by: 'hand'; checks: boolean };
        const volts = this.amp.shows(store);
        this.offer({ kind: 'store-look', by, store, volts, setup: dcSetup, enteredAfterMs: 4000 });
        if (checks)
          this.do('look-checked', {
            store,
            place: true,
            dcFunction: true,
            range: true,
            hold: true,
            leads: true,
          });
        return;
      }
      case 'battery':
        return this.do('meter-shown-to-work', { setup: dcSetup, volts: this.amp.battery() });
      case 'prove':
        this.amp.plug(false);
        return proveDead(this, (store) => this.amp.shows(store));
      case 'clip': {
        const { store, isOn } = what as { store: string; isOn: boolean };
        return isOn
          ? this.do('clip-fitted', { store, ohms: 4700, watts: 10 })
          : this.do('clip-removed', { store });
      }
      case 'meter':
        this.amp.isMeterBroken = (what as { isBroken: boolean }).isBroken;
        return;
      default:
        return this.#actOnWork(what);
    }
  }

  #actOnWork(what: Action): void {
    const { energy } = this.#state;
    switch (what.does) {
      case 'read': {
        const { isGood } = what as { isGood: boolean };
        const here = energy.kind === 'live' ? energy.condition : 'cold';
        for (const { id } of this.facts.readings.filter((each) => each.in === here)) {
          enter(this, id, isGood ? {} : { value: 1e5, verdict: here === 'cold' ? 'out of band' : 'stop' });
        }
        const steps = this.facts.steps.filter((each) => each.condition === here || each.id.startsWith('off'));
        for (const { id } of steps) this.do('step-done', { step: id });
        return;
      }
      case 'work': {
        const { mainsSide } = what as { mainsSide: boolean };
        const places = mainsSide ? ['inlet.line'] : ['TS1.4'];
        this.do('work-inside', { what: '', places, mainsSide, soldering: true });
        return this.do('looked-over');
      }
      case 'mend':
        this.do('repaired', {
          readings: Object.keys(this.#state.readings),
          what: 'joint',
          places: ['TS1.4'],
        });
        this.do('wrong-described', { signs: ['arc'], what: '' });
        return this.do('looked-over');
      case 'alarm':
        this.do('something-wrong');
        return;
      case 'valve': {
        const { socket, isIn } = what as { socket: string; isIn: boolean };
        const printed = { type: 'EL84', brand: '', dateCode: '', stock: 'new', label: '' } as const;
        return isIn ? this.do('valve-fitted', { socket, ...printed }) : this.do('valve-removed', { socket });
      }
    }
  }
}
