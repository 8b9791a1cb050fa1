import type { BuildEvent } from '../../shared-core/journal/build-event.ts';
import type { MeterEntry, Verdict } from '../../shared-core/bands/verdict.ts';
import type { SafetyState } from '../../shared-core/safety/energy-state.ts';
import type { MeterSetup, ShownBand } from '../../shared-core/safety/events.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { isInBand } from '../../shared-core/safety/lookup.ts';
import { valveEvents } from './match-valves.ts';
import type { Means } from '../../shared-core/safety/stamp.ts';

/** The members of an event beside its kind; `by` is a hand unless it says otherwise. */
export type Fields<Kind extends BuildEvent['kind']> = Omit<
  Extract<BuildEvent, { readonly kind: Kind }>,
  'kind' | 'by'
> & { readonly by?: Means };

/** Does one event, and throws with the refusals when it is refused. */
export type Doing = <Kind extends BuildEvent['kind']>(
  kind: Kind,
  ...fields: Record<never, never> extends Fields<Kind> ? [fields?: Fields<Kind>] : [fields: Fields<Kind>]
) => void;

/** Something that a journey can be told on: a bare machine, or a build with its journal. */
export interface Actor {
  readonly facts: SafetyFacts;
  readonly do: Doing;
  readonly wait: (seconds: number) => void;
  readonly safety: () => SafetyState;
}

/** One meter setting for a whole drain. */
export const dcSetup: MeterSetup = { function: 'dc volts', range: 'auto', leads: 'the red and black pair' };

/** Puts kind, means and fields together. */
export function eventFrom(kind: BuildEvent['kind'], fields: object = {}): BuildEvent {
  const isUnsaid =
    kind === 'run-started' || kind === 'heartbeat' || kind === 'journal-cut' || kind === 'band-shown';
  return { kind, ...(isUnsaid ? {} : { by: 'hand' }), ...fields } as BuildEvent;
}

/** What a reading is entered as. */
export interface Entered {
  readonly entry?: MeterEntry;
  readonly value?: number;
  readonly verdict?: Verdict;
  readonly band?: ShownBand;
  readonly by?: Means;
}

/** Enters a reading; OL where neither value nor entry is given and the kit expects it. */
export function enter(actor: Actor, reading: string, entered: Entered = {}): void {
  const expected = actor.facts.readings.find((each) => each.id === reading)?.expect;
  const plain: MeterEntry =
    expected?.overload === true && entered.value === undefined
      ? { kind: 'overload' }
      : { kind: 'value', value: entered.value ?? goodValue(expected ?? null) };
  const entry = entered.entry ?? plain;
  actor.do('reading-entered', {
    reading,
    entry,
    typed: entry.kind === 'overload' ? 'OL' : String(entry.value),
    verdict: entered.verdict ?? 'as expected',
    band: entered.band ?? (expected == null ? bandAround(entry) : null),
    bandShownBefore: false,
    corrects: null,
    by: entered.by ?? 'hand',
  });
}

/** A band that the value is in the middle of: without one, a good verdict counts for nothing. */
function bandAround(entry: MeterEntry): ShownBand | null {
  if (entry.kind === 'overload') return null;
  const { value } = entry;
  const tenth = Math.abs(value) / 10;
  return {
    ...{ low: value - tenth, nominal: value, high: value + tenth },
    ...{ lowest: value - 2 * tenth, highest: value + 2 * tenth },
  };
}

function goodValue(expect: SafetyFacts['readings'][number]['expect']): number {
  if (expect?.above !== undefined) return expect.above * 5;
  if (expect?.below !== undefined) return expect.below / 2;
  return 100;
}

/** Everything that a condition asks for on the spot, then the plug. */
export function plugIn(actor: Actor, condition: string, step: string | null = null): void {
  makeReady(actor, condition);
  actor.do('plugged-in', { condition, step });
}

/** Brings the sockets to what a condition is made for; a fixed-bias valve stays out until its bias is read. */
export function matchValves(actor: Actor, condition: string): void {
  if (actor.safety().energy.kind !== 'dead') return;
  for (const event of valveEvents(actor.safety(), actor.facts, condition)) {
    if (event.kind === 'valve-removed') actor.do('valve-removed', event);
    else if (!isBiasRead(actor, event)) continue;
    else if (event.kind === 'adjuster-set') actor.do('adjuster-set', event);
    else actor.do('valve-fitted', event);
  }
}

function isBiasRead({ facts, safety }: Actor, event: { socket: string } | { adjuster: string }): boolean {
  const bias = facts.fixedBias.find(({ socket, adjusters }) =>
    'socket' in event ? socket === event.socket : adjusters.includes(event.adjuster),
  );
  return bias === undefined || bias.readings.every((id) => isInBand(id, safety()));
}

/** The confirmations before the plug, without the plug. */
export function makeReady(actor: Actor, condition: string): void {
  matchValves(actor, condition);
  makeReadyAsIs(actor, condition);
}

/** The same with the sockets left as they are. */
export function makeReadyAsIs(actor: Actor, condition: string): void {
  if (!actor.safety().blackLeadClipped) actor.do('black-lead-clipped');
  const cautions = actor.facts.conditions.find((each) => each.id === condition)?.cautions ?? [];
  for (const { id, text } of cautions) actor.do('caution-acknowledged', { caution: id, text });
  if (actor.safety().probeStyle === null) actor.do('probe-style-chosen', { style: 'hooks' });
  actor.do('red-lead-in-volts');
  actor.do('mains-switch-off');
}

/** A meter on a store: volts at this moment. */
export type MeterShows = (store: string) => number;

/** The whole drain: plug out, meter shown, both looks, meter shown again. */
export function proveDead(actor: Actor, shows: MeterShows = () => 0.1): void {
  actor.do('plug-out-confirmed');
  if (!actor.safety().blackLeadClipped) actor.do('black-lead-clipped');
  showMeter(actor);
  lookAll(actor, shows);
  actor.wait(61);
  lookAll(actor, shows);
  showMeter(actor);
}

/** The meter on the battery. */
export function showMeter(actor: Actor, setup: MeterSetup = dcSetup): void {
  actor.wait(5);
  actor.do('meter-shown-to-work', { setup, volts: 9.1 });
}

/** One look at every store, unhurried, with the checks where the machine asks for them. */
export function lookAll(actor: Actor, shows: MeterShows): void {
  for (const { part } of actor.facts.stores) look(actor, part, shows(part));
}

/** One look, and its checks where they are asked. */
export function look(actor: Actor, store: string, volts: number, setup: MeterSetup = dcSetup): void {
  actor.wait(5);
  actor.do('store-look', { store, volts, setup, enteredAfterMs: 5000 });
  const { energy } = actor.safety();
  if (energy.kind === 'draining' && energy.stores[store]?.needsChecks === true) checkLook(actor, store);
}

/** The five answers after a look that was too low. */
export function checkLook(actor: Actor, store: string): void {
  actor.do('look-checked', { store, place: true, dcFunction: true, range: true, hold: true, leads: true });
}
