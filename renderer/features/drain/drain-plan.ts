import { storeAfter } from '../../../shared-core/prediction/store-after.ts';
import type { Draining, SafetyState, StoreProgress } from '../../../shared-core/safety/energy-state.ts';
import type { MeterSetup } from '../../../shared-core/safety/events.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import { isSameSetup } from '../../../shared-core/safety/meter-setup.ts';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import type { Stamp } from '../../../shared-core/safety/stamp.ts';

/** What to do next on the way from draining to dead. */
export type DrainTask =
  | { readonly kind: 'black-lead' }
  | { readonly kind: 'meter'; readonly when: 'before' | 'after' }
  | { readonly kind: 'checks'; readonly store: string }
  | {
      readonly kind: 'look';
      readonly store: string;
      readonly which: 'first' | 'second';
      /** Measuring sooner is allowed, but cannot prove anything yet: time still to wait, in seconds (s). */
      readonly waitSeconds: number;
    }
  | { readonly kind: 'unknown-stores' };

interface Basis {
  readonly draining: Draining;
  readonly safety: SafetyState;
  readonly facts: SafetyFacts;
  readonly now: Stamp;
  readonly setup: MeterSetup;
  /** From the core: everything the proof still needs, in order. */
  readonly needs: readonly Refusal[];
  readonly batteryVolts: number | null;
}

/**
 * The next thing to do; the core's list of needs decides, this only puts it into an order for one pair of
 * hands: black lead, meter, first looks as they become worth it, second looks, meter again.
 */
export function drainTask(basis: Basis): DrainTask | null {
  const { draining, safety, facts, now, setup, needs, batteryVolts } = basis;
  if (facts.stores.length === 0) return { kind: 'unknown-stores' };
  if (!safety.blackLeadClipped) return { kind: 'black-lead' };
  const checks = needs.find(({ code }) => code === 'safety/look-not-checked');
  if (checks?.subject != null) return { kind: 'checks', store: checks.subject };
  const isShown = draining.meterProofs.some((proof) => isSameSetup(proof.setup, setup));
  if (!isShown && batteryVolts !== null) return { kind: 'meter', when: 'before' };
  const looks = needs.flatMap((need) => lookFrom(need, draining, facts, now));
  const soonest = looks.reduce<LookTask | null>(
    (best, look) => (best === null || look.waitSeconds < best.waitSeconds ? look : best),
    null,
  );
  if (soonest !== null) return soonest;
  return needs.some(({ code }) => code === 'safety/meter-not-shown')
    ? { kind: 'meter', when: 'after' }
    : null;
}

type LookTask = Extract<DrainTask, { kind: 'look' }>;

/** What the proof asks of one store, with the time still to wait; null where it asks nothing more. */
export function lookTask(
  store: string,
  needs: readonly Refusal[],
  { draining, facts, now }: Pick<Basis, 'draining' | 'facts' | 'now'>,
): LookTask | null {
  const looks = needs.flatMap((need) => lookFrom(need, draining, facts, now));
  return looks.find((look) => look.store === store) ?? null;
}

function lookFrom(need: Refusal, draining: Draining, facts: SafetyFacts, now: Stamp): readonly LookTask[] {
  if (need.subject === null) return [];
  if (need.code === 'safety/look-missing') {
    const wait = secondsToWorthIt(need.subject, draining, facts, now) ?? 0;
    return [{ kind: 'look', store: need.subject, which: 'first', waitSeconds: Math.max(0, wait) }];
  }
  if (need.code !== 'safety/second-look-missing') return [];
  const wait = ((need.notBeforeTick ?? now.tick) - now.tick) / 1000;
  return [{ kind: 'look', store: need.subject, which: 'second', waitSeconds: Math.max(0, wait) }];
}

/**
 * When a first look is worth taking: the likely curve is below the safe voltage.
 *
 * @returns Seconds from now (s), below zero when that time has passed; null when the time is unknown.
 */
export function secondsToWorthIt(
  store: string,
  draining: Draining,
  facts: SafetyFacts,
  now: Stamp,
): number | null {
  const known = facts.stores.find(({ part }) => part === store);
  const prediction = known && storeAfter(known, draining.from);
  if (!draining.timeKnown || draining.plugOut === null || prediction?.likelySeconds == null) return null;
  return prediction.likelySeconds - (now.tick - draining.plugOut.tick) / 1000;
}

/** How far one store is, in words. */
export function storeWords(progress: StoreProgress | undefined, isOnClip: boolean): string {
  if (progress === undefined || progress.looks.length === 0) return 'not measured';
  if (progress.needsChecks) return 'lower than the drain explains';
  if (progress.second !== null) return 'both looks taken';
  if (progress.first !== null) return isOnClip ? 'first look taken, clip on' : 'first look taken';
  return 'still charged';
}
