import { storeAfter } from '../prediction/store-after.ts';
import { unknownDraining } from './initial-safety.ts';
import { curveVolts } from './drain-curve.ts';
import type { Draining, Finding, Look, MeterProof, SafetyState, StoreProgress } from './energy-state.ts';
import type { StoreLook } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { falling, leastShownVolts, probeMoveMs, secondLookAfterMs, slowFindingVolts } from './limits.ts';
import { safeVoltsOf } from './lookup.ts';
import { isSameSetup } from './meter-setup.ts';
import type { Stamp } from './stamp.ts';

const noProgress: StoreProgress = { looks: [], first: null, second: null, needsChecks: false };

/** One look at one store while `draining`. */
export function reduceLook(
  state: SafetyState,
  draining: Draining,
  event: StoreLook,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const look = lookFrom(event, stamp, draining, facts);
  const before = draining.stores[event.store] ?? noProgress;
  const meterProofs = [...draining.meterProofs, ...fallingProof(before, look)];
  const progress = progressAfter(before, look, meterProofs, safeVoltsOf(facts));
  return {
    ...state,
    energy: { ...draining, meterProofs, stores: { ...draining.stores, [event.store]: progress } },
    findings: [...state.findings, ...findingsOf(event.store, look, state)],
  };
}

function lookFrom(event: StoreLook, stamp: Stamp, draining: Draining, facts: SafetyFacts): Look {
  const known = facts.stores.find((each) => each.part === event.store);
  const store = known === undefined ? undefined : storeAfter(known, draining.from);
  const isTimed = draining.timeKnown && draining.plugOut !== null && store !== undefined;
  const seconds = draining.plugOut === null ? 0 : (stamp.tick - draining.plugOut.tick) / 1000;
  const elsewhere = Object.entries(draining.stores)
    .filter(([part]) => part !== event.store)
    .flatMap(([, progress]) => progress.looks.map((look) => look.stamp.tick));
  return {
    stamp,
    volts: Math.abs(event.volts),
    setup: event.setup,
    hurried:
      event.enteredAfterMs < probeMoveMs || stamp.tick - Math.max(...elsewhere, -Infinity) < probeMoveMs,
    fastVolts: isTimed ? curveVolts(store.fast, seconds) : null,
    likelyVolts: isTimed ? curveVolts(store.likely, seconds) : null,
    slowVolts: isTimed ? curveVolts(store.slow, seconds) : null,
  };
}

/** This store seen falling shows that the meter works (rule 6). */
function fallingProof(before: StoreProgress, look: Look): readonly MeterProof[] {
  const last = before.looks.at(-1);
  if (last === undefined || !isSameSetup(last.setup, look.setup)) return [];
  const isFalling =
    last.volts >= falling.fromVolts &&
    look.volts >= falling.toVolts &&
    look.volts <= falling.share * last.volts;
  return isFalling ? [{ stamp: look.stamp, how: 'store seen falling', setup: look.setup }] : [];
}

/**
 * A store's progress after one more look.
 *
 * A first look that cannot count (meter not shown before it, another setting, checks unanswered) gives
 * way to the new one, so that the builder can always start again by measuring.
 */
function progressAfter(
  before: StoreProgress,
  look: Look,
  proofs: readonly MeterProof[],
  safeVolts: number,
): StoreProgress {
  const looks = [...before.looks, look];
  if (!(look.volts < safeVolts)) return { looks, first: null, second: null, needsChecks: false };
  const { first } = before;
  const isFirstGood =
    first !== null &&
    !before.needsChecks &&
    isSameSetup(first.setup, look.setup) &&
    proofs.some((proof) => proof.stamp.tick <= first.stamp.tick && isSameSetup(proof.setup, first.setup));
  if (!isFirstGood) return { looks, first: look, second: null, needsChecks: isTooLow(look) };
  const isLate = look.stamp.tick - first.stamp.tick >= secondLookAfterMs;
  return { ...before, looks, second: isLate ? look : before.second };
}

/** Below the fast curve, or at an unknown time, when no curve can say what to expect. */
function isTooLow(look: Look): boolean {
  if (look.fastVolts === null) return true;
  return look.fastVolts >= leastShownVolts && look.volts < look.fastVolts;
}

function findingsOf(store: string, look: Look, state: SafetyState): readonly Finding[] {
  const { stamp, volts } = look;
  const accuracy = state.bench?.meter.accuracy.dcVolts ?? 0;
  const isTelling = volts >= slowFindingVolts;
  const isSlow = isTelling && look.slowVolts !== null && volts > look.slowVolts * (1 + accuracy);
  const slow: readonly Finding[] = isSlow ? [{ kind: 'slow drain', store, volts, stamp }] : [];
  return look.hurried ? [...slow, { kind: 'hurried look', store, volts, stamp }] : slow;
}

/** A look at a store of a dead amplifier: noted, and believed when it shows a charge. */
export function reduceDeadLook(
  state: SafetyState,
  event: StoreLook,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const volts = Math.abs(event.volts);
  const deadVolts = { ...state.deadVolts, [event.store]: volts };
  if (volts < safeVoltsOf(facts)) return { ...state, deadVolts };
  const finding: Finding = { kind: 'charge found in a dead amplifier', store: event.store, volts, stamp };
  return {
    ...state,
    energy: unknownDraining('charge found', stamp),
    everPluggedIn: true,
    deadVolts: {},
    findings: [...state.findings, finding],
  };
}
