import type { BuildEvent } from '../../shared-core/journal/build-event.ts';
import type { SafetyState, StartedFrom } from '../../shared-core/safety/energy-state.ts';
import type { SafetyEvent } from '../../shared-core/safety/events.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { Rulebook } from '../../shared-core/safety/guard.ts';
import { initialSafety } from '../../shared-core/safety/initial-safety.ts';
import { lapseWith } from '../../shared-core/safety/lapse.ts';
import { foldWith, refusalsWith } from '../../shared-core/safety/machine.ts';
import { reachRefusalsOf } from '../../shared-core/safety/reach.ts';
import { rulebook } from '../../shared-core/safety/rulebook.ts';
import type { Refusal, RefusalCode } from '../../shared-core/safety/refusal.ts';
import { fakeClock, type FakeClock } from './fake-clock.ts';
import { finch, finchBench } from './finch.ts';
import { enter, eventFrom, proveDead, type Actor, type Fields } from './journey.ts';

/** The bare machine with a clock: for the rules' own tests, where a rule can be taken out. */
export interface ScriptedSafety extends Actor {
  readonly clock: FakeClock;
  /** Refusals of an event that is not done. */
  readonly ask: <Kind extends SafetyEvent['kind']>(
    kind: Kind,
    fields?: Partial<Fields<Kind>>,
  ) => readonly Refusal[];
  readonly codes: <Kind extends SafetyEvent['kind']>(
    kind: Kind,
    fields?: Partial<Fields<Kind>>,
  ) => readonly RefusalCode[];
  /** Folds an event without asking first, as an edited journal would. */
  readonly force: (event: SafetyEvent) => void;
  readonly mayInside: () => boolean;
}

export interface ScriptedOptions {
  readonly startedFrom?: StartedFrom;
  readonly facts?: SafetyFacts;
  readonly rules?: Rulebook;
}

/** A machine at its start. */
export function scriptSafety(options: ScriptedOptions = {}): ScriptedSafety {
  const { startedFrom = 'loose parts', facts = finch, rules = rulebook } = options;
  const clock = fakeClock();
  let state: SafetyState = initialSafety(startedFrom);
  const ask = (event: SafetyEvent): readonly Refusal[] =>
    refusalsWith(rules, state, event, clock.now(), facts);
  const force = (event: SafetyEvent): void => {
    state = foldWith(rules, state, event, clock.now(), facts);
  };
  const self: ScriptedSafety = {
    facts,
    clock,
    wait: clock.wait,
    safety: () => state,
    force,
    ask: (kind, fields) => ask(eventFrom(kind, fields) as SafetyEvent),
    codes: (kind, fields) => self.ask(kind, fields).map((each) => each.code),
    mayInside: () =>
      reachRefusalsOf(lapseWith(rules.lapses, state, clock.now(), null), 'inside').length === 0,
    do: ((kind: BuildEvent['kind'], fields?: object) => {
      const event = eventFrom(kind, fields) as SafetyEvent;
      const why = ask(event);
      if (why.length > 0) throw new Error(`${kind} refused: ${why.map((each) => each.message).join(' ')}`);
      force(event);
    }) as Actor['do'],
  };
  self.do('bench-recorded', { bench: finchBench });
  return self;
}

/** Finch from loose parts to just before its first plug-in. */
export function buildFinch(actor: Actor): void {
  for (const step of ['gather', 'wire-mains', 'wire-ht']) actor.do('step-done', { step });
  actor.do('step-ticked', { step: 'look', item: 0, ticked: true });
  actor.do('step-ticked', { step: 'look', item: 1, ticked: true });
  actor.do('step-done', { step: 'look' });
  passGate(actor);
  actor.do('step-done', { step: 'cold-read' });
  actor.do('step-done', { step: 'fuse' });
}

/** The cold gate of Finch. */
export function passGate(actor: Actor): void {
  for (const reading of ['earth', 'line', 'neutral', 'primary', 'b1-cold']) enter(actor, reading);
  actor.do('insulation-not-tested');
  actor.do('fuse-read', { part: 'F1', amps: 0.5, speed: 'T', typed: 'T 500 mA' });
}

/** Ends a live condition and proves the amplifier dead with empty stores. */
export function endCondition(actor: Actor): void {
  actor.wait(240);
  proveDead(actor);
}
