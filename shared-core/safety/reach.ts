import type { Reach } from '../kit/kit.ts';
import type { SafetyState } from './energy-state.ts';
import { refuse, type Refusal } from './refusal.ts';

/** Rule 1 for a state as it stands: outside always, probe with the black lead on, inside only when dead. */
export function reachRefusalsOf(state: SafetyState, reach: Reach): readonly Refusal[] {
  const { energy } = state;
  if (reach === 'outside' || energy.kind === 'dead') return [];
  if (reach === 'inside') {
    return [
      refuse(
        'safety/not-dead',
        energy.kind === 'live' ? 'The amplifier is live.' : 'The amplifier is not proven dead.',
        'Pull the plug, lay it in sight, and measure every store.',
      ),
    ];
  }
  if (energy.kind === 'live' && energy.mustPull !== null) {
    return [
      refuse(
        'safety/pull-the-plug',
        'Pull the plug now.',
        'Pull the plug, lay it in sight, then confirm it.',
      ),
    ];
  }
  if (energy.kind === 'draining' && energy.plugOut === null) {
    return [
      refuse(
        'safety/plug-not-confirmed-out',
        'The plug is not confirmed out.',
        'Pull the plug, lay it in sight, then confirm it.',
      ),
    ];
  }
  return state.blackLeadClipped
    ? []
    : [
        refuse(
          'safety/black-lead-first',
          'The black lead is not recorded as clipped to the chassis.',
          'With the plug out, clip the black lead to the chassis and confirm it.',
        ),
      ];
}
