import type { SafetyEvent } from '../../shared-core/safety/events.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';

/** The amplifier on the bench as it really is: plug, charge, absorbed charge, clips. */
export class RealAmplifier {
  isPluggedIn = false;
  isMeterBroken = false;
  readonly #full: number;
  readonly #stores = new Map<string, { volts: number; absorbed: number; hasClip: boolean }>();

  constructor(stores: readonly string[], startVolts: number, fullVolts = 340) {
    this.#full = fullVolts;
    for (const store of stores) {
      this.#stores.set(store, { volts: startVolts, absorbed: startVolts, hasClip: false });
    }
  }

  /**
   * Time passes, in seconds (s).
   *
   * A bleeder drains with 25 s, a clip with 0.3 s; a tenth of the charge hides in the dielectric and creeps
   * back with 15 s, more than any real capacitor shows.
   */
  pass(seconds: number): void {
    const steps = Math.min(400, Math.max(1, Math.ceil(seconds / 0.25)));
    for (let step = 0; step < steps; step += 1) this.#step(seconds / steps);
  }

  #step(seconds: number): void {
    for (const store of this.#stores.values()) {
      if (this.isPluggedIn) {
        store.volts = this.#full;
        store.absorbed = this.#full;
        continue;
      }
      const moved = (store.absorbed - store.volts) * (1 - Math.exp(-seconds / 15));
      store.absorbed -= moved;
      store.volts = (store.volts + 0.1 * moved) * Math.exp(-seconds / (store.hasClip ? 0.3 : 25));
    }
  }

  plug(isIn: boolean): void {
    this.isPluggedIn = isIn;
    if (isIn) this.#step(0);
  }

  clip(store: string, hasClip: boolean): void {
    const it = this.#stores.get(store);
    if (it !== undefined) it.hasClip = hasClip;
  }

  /** What a meter shows across a store: nothing at all when the meter is broken. */
  shows(store: string): number {
    return this.isMeterBroken ? 0 : (this.#stores.get(store)?.volts ?? 0);
  }

  battery(): number {
    return this.isMeterBroken ? 0 : 9.1;
  }

  /** Whether a hand inside would touch nothing dangerous now. */
  isSafeInside(safeVolts: number): boolean {
    return !this.isPluggedIn && [...this.#stores.values()].every((each) => each.volts < safeVolts);
  }
}

/** An accepted event with its moment. */
export interface Told {
  readonly event: SafetyEvent;
  readonly stamp: Stamp;
}

/**
 * Whether a history holds a proof that the amplifier is empty: rule 6, read off the events alone.
 *
 * Written without the machine: it looks for the last plug-out that nothing spoilt and counts what follows.
 */
export function holdsProof(told: readonly Told[], now: Stamp, facts: SafetyFacts): boolean {
  const start = lastBreak(told, now);
  if (start === null) return false;
  const after = told.slice(start);
  const out = after.findIndex(({ event }) => event.kind === 'plug-out-confirmed');
  if (out === -1) return false;
  const since = after.slice(out);
  const works = since.flatMap((each, index) => (isMeterShown(since, index) ? [each.stamp.tick] : []));
  const from = works[0] ?? Infinity;
  const to = works.at(-1) ?? -Infinity;
  return facts.stores.every(({ part }) => {
    const looks = since.filter(({ event }) => event.kind === 'store-look' && event.store === part);
    const ticks = looks
      .filter(({ event, stamp }) => isLow(event, facts) && stamp.tick >= from && stamp.tick <= to)
      .map(({ stamp }) => stamp.tick);
    const first = ticks[0];
    if (first === undefined) return false;
    const hadClip = since.some(({ event }) => event.kind === 'clip-fitted' && event.store === part);
    return hadClip || ticks.some((tick) => tick - first >= 60_000);
  });
}

/** Index after the last event that spoils every proof; null when time alone spoilt it since. */
function lastBreak(told: readonly Told[], now: Stamp): number | null {
  let start = 0;
  for (let index = 0; index < told.length; index += 1) {
    const here = told[index];
    const before = told[index - 1];
    if (here === undefined) continue;
    const isBroken = before !== undefined && isGap(before.stamp, here.stamp);
    if (isBroken) start = index;
    const { kind } = here.event;
    // The plug-out that ends `live` is itself the start of the drain.
    if (kind === 'plugged-in' || kind === 'found-plugged-in' || kind === 'declared-assembled')
      start = index + 1;
  }
  const last = told.at(-1);
  return last !== undefined && isGap(last.stamp, now) ? null : start;
}

function isGap(one: Stamp, other: Stamp): boolean {
  const wallMs = Date.parse(other.at) - Date.parse(one.at);
  return one.run !== other.run || Math.abs(wallMs - (other.tick - one.tick)) > 5000;
}

function isLow(event: SafetyEvent, facts: SafetyFacts): boolean {
  return event.kind === 'store-look' && Math.abs(event.volts) < facts.safeVolts;
}

/** A battery read, or one store lower than its look before. */
function isMeterShown(since: readonly Told[], index: number): boolean {
  const event = since[index]?.event;
  if (event?.kind === 'meter-shown-to-work') return true;
  if (event?.kind !== 'store-look') return false;
  const before = since
    .slice(0, index)
    .map((each) => each.event)
    .filter((each) => each.kind === 'store-look' && each.store === event.store)
    .at(-1);
  return before?.kind === 'store-look' && Math.abs(event.volts) < Math.abs(before.volts);
}

/** What an accepted plug-in lacked, read off the history alone; empty when every gate was met. */
export function unmetGates(
  told: readonly Told[],
  condition: string,
  now: Stamp,
  facts: SafetyFacts,
  isLoose: boolean,
): readonly string[] {
  const kinds = told.map(({ event }) => event.kind);
  const lastPlug = Math.max(kinds.lastIndexOf('plugged-in'), kinds.lastIndexOf('plug-out-confirmed'));
  const lastOhms = told.findLastIndex(
    ({ event }) => event.kind === 'reading-entered' && isCold(event.reading, facts),
  );
  const since = (kind: SafetyEvent['kind'], start: number): boolean =>
    told.some((each, index) => index > start && each.event.kind === kind && each.stamp.run === now.run);
  const unmet: string[] = [];
  if (!kinds.includes('bench-recorded')) unmet.push('bench');
  if (!since('mains-switch-off', Math.max(kinds.lastIndexOf('plugged-in'), lastOhms))) unmet.push('switch');
  if (!since('red-lead-in-volts', kinds.lastIndexOf('plugged-in'))) unmet.push('red lead');
  for (const caution of facts.conditions.find((each) => each.id === condition)?.cautions ?? []) {
    const isSaid = told.some(
      ({ event, stamp }, index) =>
        index > kinds.lastIndexOf('plugged-in') &&
        stamp.run === now.run &&
        event.kind === 'caution-acknowledged' &&
        event.caution === caution.id,
    );
    if (!isSaid) unmet.push(caution.id);
  }
  for (const { part } of facts.stores) {
    const last = told.findLast(
      ({ event }) => (event.kind === 'clip-fitted' || event.kind === 'clip-removed') && event.store === part,
    );
    if (last?.event.kind === 'clip-fitted') unmet.push(`clip ${part}`);
  }
  const lastMainsWork = told.findLastIndex(({ event }) => event.kind === 'work-inside' && event.mainsSide);
  for (const { id, proves } of facts.readings) {
    const index = told.findLastIndex(({ event }) => event.kind === 'reading-entered' && event.reading === id);
    const event = told[index]?.event;
    const isGood = event?.kind === 'reading-entered' && event.verdict === 'as expected';
    const isGate = proves !== null && proves !== 'insulation';
    if (isGate && !(isGood && index > lastMainsWork)) unmet.push(`gate ${id}`);
    const isStop = event?.kind === 'reading-entered' && event.verdict === 'stop';
    const isMended = told.some(
      (each, later) => later > index && each.event.kind === 'repaired' && each.event.readings.includes(id),
    );
    if (isStop && !isMended) unmet.push(`stop ${id}`);
  }
  const lastWork = Math.max(
    kinds.lastIndexOf('work-inside'),
    kinds.lastIndexOf('repaired'),
    kinds.lastIndexOf('something-wrong'),
  );
  const lamp = told.findLastIndex(
    ({ event }) => event.kind === 'plugged-in' && event.condition === facts.lampStage,
  );
  if (lastWork > lamp && condition !== facts.lampStage) unmet.push('lamp stage');
  const own = facts.conditions.find((each) => each.id === condition);
  for (const socket of facts.sockets) {
    const moved = told.findLast(
      ({ event }) =>
        (event.kind === 'valve-fitted' || event.kind === 'valve-removed') && event.socket === socket,
    )?.event.kind;
    const isIn = moved === undefined ? (isLoose ? false : null) : moved === 'valve-fitted';
    if (isIn !== (own?.fitted === 'all' || own?.fitted.includes(socket) === true))
      unmet.push(`valve ${socket}`);
  }
  const last = told[lastPlug]?.event;
  const wasNeverLive = isLoose && !kinds.includes('plugged-in');
  const isReentry = !wasNeverLive && last?.kind === 'plug-out-confirmed' && !holdsProof(told, now, facts);
  const from = told.findLast(({ event }) => event.kind === 'plugged-in')?.event;
  const moved = told
    .slice(lastPlug + 1)
    .some(({ event }) => event.kind === 'clip-fitted' || event.kind === 'clip-removed');
  if (isReentry && (moved || from?.kind !== 'plugged-in' || from.condition !== condition))
    unmet.push('re-entry');
  return unmet;
}

function isCold(reading: string, facts: SafetyFacts): boolean {
  const condition = facts.readings.find((each) => each.id === reading)?.in;
  return facts.conditions.find((each) => each.id === condition)?.supply === 'unplugged';
}
