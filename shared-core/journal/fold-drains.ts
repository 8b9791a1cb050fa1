import type { SafetyState } from '../safety/energy-state.ts';
import type { BuildState, DrainLook, DrainRecord } from './build-state.ts';
import type { JournalEntry } from './journal-entry.ts';

/** Plug-ins and drains, as the energy state went through them. */
export function foldDrains(build: BuildState, entry: JournalEntry, before: SafetyState): BuildState {
  const { event, at, seq } = entry;
  const after = build.safety;
  let { plugIns } = build;
  let drains = openDrain(build.drains, seq, before, after);
  if (after.energy.kind === 'live' && event.kind === 'plugged-in') {
    plugIns = [...plugIns, { seq, condition: event.condition, at, outAt: null }];
  }
  if (event.kind === 'plug-out-confirmed' && before.energy.kind === 'live') {
    plugIns = replaceLast(plugIns, (last) => ({ ...last, outAt: at }));
  }
  if (event.kind === 'plug-out-confirmed' && after.energy.kind === 'draining') {
    const { timeKnown } = after.energy;
    drains = replaceLast(drains, (last) => ({ ...last, plugOutAt: last.plugOutAt ?? at, timeKnown }));
  }
  if (event.kind === 'store-look' && before.energy.kind === 'draining') {
    const look = lookOf(event.store, entry, before, after);
    if (look !== null) drains = replaceLast(drains, (last) => ({ ...last, looks: [...last.looks, look] }));
  }
  if (event.kind === 'clip-fitted') {
    const clip = { store: event.store, at, ohms: event.ohms };
    drains = replaceLast(drains, (last) => ({ ...last, clips: [...last.clips, clip] }));
  }
  if (before.energy.kind === 'draining' && after.energy.kind === 'dead') {
    drains = replaceLast(drains, (last) => ({ ...last, provenAt: at, provenSeq: seq }));
  }
  return { ...build, plugIns, drains };
}

/** A new drain whenever `draining` is entered, or lapses into a fresh start. */
function openDrain(
  drains: readonly DrainRecord[],
  seq: number,
  before: SafetyState,
  after: SafetyState,
): readonly DrainRecord[] {
  if (after.energy.kind !== 'draining') return drains;
  const isSame =
    before.energy.kind === 'draining' &&
    before.energy.why === after.energy.why &&
    before.energy.since?.tick === after.energy.since?.tick &&
    before.energy.since?.run === after.energy.since?.run;
  if (isSame && drains.length > 0) return drains;
  const { why, timeKnown } = after.energy;
  return [
    ...drains,
    { seq, why, plugOutAt: null, timeKnown, looks: [], clips: [], provenAt: null, provenSeq: null },
  ];
}

/** The look as the machine took it, with its curves' figures. */
function lookOf(
  store: string,
  entry: JournalEntry,
  before: SafetyState,
  after: SafetyState,
): DrainLook | null {
  const { event } = entry;
  if (event.kind !== 'store-look' || before.energy.kind !== 'draining') return null;
  const { plugOut, timeKnown } = before.energy;
  const stores = after.energy.kind === 'live' ? {} : after.energy.stores;
  const look = stores[store]?.looks.at(-1);
  if (look === undefined) return null;
  const { hurried, fastVolts, likelyVolts, slowVolts, volts, setup } = look;
  return {
    store,
    at: entry.at,
    volts,
    setup,
    hurried,
    fastVolts,
    likelyVolts,
    slowVolts,
    seconds: timeKnown && plugOut !== null ? (entry.tick - plugOut.tick) / 1000 : null,
  };
}

function replaceLast<Item>(list: readonly Item[], change: (last: Item) => Item): readonly Item[] {
  const last = list.at(-1);
  return last === undefined ? list : [...list.slice(0, -1), change(last)];
}
