import type { ProofRule } from '../../guard.ts';
import { secondLookAfterMs } from '../../limits.ts';
import { refuse } from '../../refusal.ts';

/** Rule 6: without a list of stores nothing can be proven. */
export const storesKnown: ProofRule = {
  id: 'proof/stores-known',
  unmet: (_, __, { stores }) =>
    stores.length > 0
      ? []
      : [
          refuse(
            'safety/stores-unknown',
            'It is not known which capacitors of this kit hold a charge.',
            'Let the prediction finish, or mend the kit file. Until then treat the amplifier as live.',
          ),
        ],
};

/** Rule 5: the plug is out and in sight. */
export const plugOut: ProofRule = {
  id: 'proof/plug-out',
  unmet: (draining) =>
    draining.plugOut !== null
      ? []
      : [
          refuse(
            'safety/plug-not-confirmed-out',
            'The plug is not confirmed out.',
            'Pull the plug out of the wall, lay it in sight and confirm it.',
          ),
        ],
};

/** Rule 6: every store is below the safe voltage; no store proves another. */
export const firstLooks: ProofRule = {
  id: 'proof/first-looks',
  unmet: (draining, _, { stores, safeVolts }) =>
    stores
      .filter(({ part }) => (draining.stores[part]?.first ?? null) === null)
      .map(({ part, plus, minus }) =>
        refuse(
          'safety/look-missing',
          `${part} has not been seen below ${safeVolts} V.`,
          `Measure DC volts from ${plus} to ${minus}.`,
          part,
        ),
      ),
};

/** Rule 6: each again at least 60 s after its own first look; a clip may stand in for its own store. */
export const secondLooks: ProofRule = {
  id: 'proof/second-looks',
  unmet: (draining, { clips }, { stores }) =>
    stores.flatMap(({ part, plus, minus }) => {
      const progress = draining.stores[part];
      if (progress === undefined || progress.first === null || progress.second !== null) return [];
      const clip = clips[part];
      if (clip !== undefined && isOfThisDrain(clip.stamp, draining.plugOut)) return [];
      return [
        refuse(
          'safety/second-look-missing',
          `${part} has to be measured again, 60 s or more after its first look.`,
          `Charge creeps back. Measure from ${plus} to ${minus} again.`,
          part,
          progress.first.stamp.tick + secondLookAfterMs,
        ),
      ];
    }),
};

/** Rule 6: a look lower than the drain can explain proves nothing until the meter has been checked. */
export const looksChecked: ProofRule = {
  id: 'proof/looks-checked',
  unmet: (draining, _, { stores }) =>
    stores
      .filter(({ part }) => draining.stores[part]?.needsChecks === true)
      .map(({ part }) =>
        refuse(
          'safety/look-not-checked',
          `The look at ${part} is lower than the drain explains.`,
          'Check the place, DC volts, the range, that hold is off, and the leads.',
          part,
        ),
      ),
};

function isOfThisDrain(
  stamp: { readonly run: string; readonly tick: number },
  plugOutAt: { readonly run: string; readonly tick: number } | null,
): boolean {
  return plugOutAt !== null && stamp.run === plugOutAt.run && stamp.tick >= plugOutAt.tick;
}
