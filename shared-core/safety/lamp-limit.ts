import type { SafetyState } from './energy-state.ts';
import type { SafetyFacts } from './facts.ts';
import { isFittedIn, socketStanding } from './sockets.ts';
import type { Stamp } from './stamp.ts';

/**
 * Longest stay on the lamp limiter with a valve in any socket, in seconds (s).
 *
 * Heaters starved of volts strip the cathode once anode current is drawn. Common practice, no source.
 */
export const lampLimitSeconds = 300;

/**
 * Time left on the lamp limiter with valves fitted, in seconds (s): 0 when it is over.
 *
 * Null where it does not run: not live, not on the lamp, or every socket recorded as empty. A socket of which
 * nothing is recorded counts as fitted.
 */
export function lampLeftSeconds(
  state: SafetyState,
  { conditions, sockets }: Pick<SafetyFacts, 'conditions' | 'sockets'>,
  now: Stamp,
): number | null {
  const { energy } = state;
  if (energy.kind !== 'live') return null;
  const condition = conditions.find(({ id }) => id === energy.condition);
  if (condition?.supply !== 'lamp') return null;
  const hasValve = sockets.some(
    (socket) => isFittedIn(socket, condition) || socketStanding(socket, state) !== 'empty',
  );
  if (!hasValve) return null;
  const passed = energy.since.run === now.run ? (now.tick - energy.since.tick) / 1000 : lampLimitSeconds;
  return Math.max(lampLimitSeconds - passed, 0);
}
