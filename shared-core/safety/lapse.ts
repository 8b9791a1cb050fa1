import { forgottenConfirmations, unknownDraining } from './initial-safety.ts';
import type { SafetyState } from './energy-state.ts';
import type { SafetyEvent } from './events.ts';
import type { LapseRule } from './guard.ts';
import { clockDifferenceMs, idleLapseMs } from './limits.ts';
import type { Stamp } from './stamp.ts';

const otherRun: LapseRule = {
  id: 'lapse/new-run',
  lapses: ({ last }, now) => (last !== null && last.run !== now.run ? 'closed' : null),
};

const clocksDiffer: LapseRule = {
  id: 'lapse/clocks-differ',
  lapses: ({ last }, now) => {
    if (last === null || last.run !== now.run) return null;
    const wallMs = Date.parse(now.at) - Date.parse(last.at);
    const tickMs = now.tick - last.tick;
    const isSteady = tickMs >= 0 && Math.abs(wallMs - tickMs) <= clockDifferenceMs;
    return isSteady ? null : 'asleep or clock set';
  },
};

const idle: LapseRule = {
  id: 'lapse/idle',
  lapses: ({ energy, lastByPerson }, now) => {
    if (energy.kind !== 'dead' || lastByPerson === null || lastByPerson.run !== now.run) return null;
    return now.tick - lastByPerson.tick >= idleLapseMs ? 'idle' : null;
  },
};

/** Where the monotonic clock runs on through sleep, only the missing heartbeats tell. */
const heartbeatsMissed: LapseRule = {
  id: 'lapse/heartbeats-missed',
  lapses: (_, __, event) =>
    event?.kind === 'heartbeat' && !(event.missedMs <= clockDifferenceMs) ? 'asleep or clock set' : null,
};

/** Rules 8 and 13: what ends a proof without an event. */
export const lapseRules: readonly LapseRule[] = [otherRun, clocksDiffer, heartbeatsMissed, idle];

/**
 * The state as it stands at a moment, before any event of that moment.
 *
 * Loose parts that were never plugged in stay `dead`; everything else becomes `draining`, time unknown.
 */
export function lapseWith(
  rules: readonly LapseRule[],
  state: SafetyState,
  now: Stamp,
  event: SafetyEvent | null,
): SafetyState {
  const why = rules.map((rule) => rule.lapses(state, now, event)).find((each) => each !== null);
  if (why === undefined || why === null) return state;
  if (!state.everPluggedIn && state.energy.kind === 'dead') {
    return { ...state, ...forgottenConfirmations, last: now };
  }
  return { ...state, ...forgottenConfirmations, energy: unknownDraining(why, now), last: now };
}
