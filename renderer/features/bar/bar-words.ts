import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import type { Bench } from '../../../shared-core/prediction/bench.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import type { Stamp } from '../../../shared-core/safety/stamp.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { clockWords, durationWords } from '../../components/time-words.ts';

/** What the energy bar shows. */
export interface BarWords {
  readonly look: 'dead' | 'draining' | 'live' | 'unknown';
  /** The state in one or two words: the largest thing on the screen. */
  readonly state: string;
  /** What it is like now, in short pieces. */
  readonly details: readonly string[];
  /** What to keep in mind. */
  readonly reminder: string;
}

/** The bar when the host is silent, the computer slept, or another face writes. */
export const unknownWords: BarWords = {
  look: 'unknown',
  state: 'State unknown',
  details: ['treat as live'],
  reminder: 'Hands out. Pull the plug if you are not sure.',
};

interface Basis {
  readonly safety: SafetyState;
  readonly facts: SafetyFacts;
  readonly kit: ChosenKit;
  readonly bench: Bench | null;
  readonly now: Stamp;
}

/** The energy state in words. */
export function barWords({ safety, facts, kit, bench, now }: Basis): BarWords {
  const { energy } = safety;
  const stores = `${facts.stores.length} ${facts.stores.length === 1 ? 'store' : 'stores'}`;
  switch (energy.kind) {
    case 'dead':
      return energy.proof === 'never plugged in'
        ? { look: 'dead', state: 'Dead', details: ['never plugged in'], reminder: 'Hands may go inside.' }
        : {
            look: 'dead',
            state: 'Drained',
            details: [
              energy.since === null ? 'proven' : `proven ${clockWords(energy.since.at)}`,
              `${stores} below ${formatQuantity(facts.safeVolts, 'V')}`,
            ],
            reminder: 'Hands may go inside.',
          };
    case 'live': {
      const condition = kit.conditions.find((each) => each.id === energy.condition);
      return {
        look: 'live',
        state: 'Live',
        details: [
          'plug in',
          ...(bench === null ? [] : [formatQuantity(bench.mains.volts, 'V')]),
          condition?.title ?? energy.condition,
          durationWords((now.tick - energy.since.tick) / 1000),
        ],
        reminder: 'One hand · black lead on chassis',
      };
    }
    default: {
      const { plugOut, timeKnown } = energy;
      if (plugOut === null) {
        return {
          look: 'draining',
          state: 'Draining',
          details: ['time unknown', 'plug not confirmed out'],
          reminder: 'Hands out.',
        };
      }
      return {
        look: 'draining',
        state: 'Draining',
        details: timeKnown
          ? [`plug out for ${durationWords((now.tick - plugOut.tick) / 1000)}`, `${stores} to prove`]
          : ['time unknown', `${stores} to prove`],
        reminder: 'Hands out. Waiting proves nothing: measure.',
      };
    }
  }
}
