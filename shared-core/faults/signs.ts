import { elementFigures } from '../circuit/operating-point.ts';
import type { ConditionState } from '../prediction/condition-model.ts';
import { placeVolts } from '../prediction/predict-condition.ts';
import type { ConditionPicture } from './picture.ts';

/** Signs that tell causes apart, as the app names them; every other sign says nothing here. */
export const tellingSigns = [
  'lamp stays bright',
  'fuse blew',
  'red anode',
  'smoke or smell',
  'hot part',
] as const;

/** How hard a fault is on the amplifier, against what it bears; 1 is just borne. */
export interface Stress {
  /** Primary current against the fuses. */
  readonly fuse: number;
  /** Anode dissipation against 1.3 times what the healthy amplifier has. */
  readonly anode: number;
  /** Dissipation of the hottest resistor against its rating. */
  readonly resistor: number;
}

/** Nothing is known of a condition that cannot be computed: a short is as likely as not. */
export const unknownStress: Stress = { fuse: 2, anode: 1, resistor: 1 };

/** Where signs begin, as shares of what is borne: common practice, no source. */
const begins = { fuse: 1.5, anode: 1.4, resistor: 1.8 } as const;

/** Chance of a sign where its cause is there, and where it is not: common practice, no source. */
const chances = { there: 0.6, notThere: 0.03 } as const;

/** The worst stress of an amplifier in the conditions that were pictured. */
export function stressOf(pictures: readonly ConditionPicture[], isLive: readonly boolean[]): Stress {
  const found = pictures.flatMap(({ state }, index) => {
    if (!isLive[index]) return [];
    return [state?.converged ? stressIn(state) : unknownStress];
  });
  const worst = (what: keyof Stress): number => Math.max(0, ...found.map((stress) => stress[what]));
  return { fuse: worst('fuse'), anode: worst('anode'), resistor: worst('resistor') };
}

function stressIn(state: ConditionState): Stress {
  const { chosen } = state.model;
  const fuses = chosen.parts.flatMap((part) => (part.kind === 'fuse' ? [part.amps] : []));
  const primary = Object.values(state.mains.primaryAmps).reduce((sum, amps) => sum + amps, 0);
  const isShort = Object.keys(state.supplies.notPredicted).length > 0;
  const anodes = state.elements.flatMap(({ id, device }) =>
    device.name === 'pentode' || device.name === 'triode'
      ? elementFigures(state.solver, id)
          .filter(({ what }) => what === 'anode dissipation')
          .map(({ value }) => value)
      : [],
  );
  const resistors = chosen.parts.flatMap((part) => {
    if (part.kind !== 'resistor') return [];
    const [one, other] = part.between.map((place) => placeVolts(state, place));
    return [((one ?? 0) - (other ?? 0)) ** 2 / part.ohms / part.watts];
  });
  return {
    fuse: isShort ? unknownStress.fuse : primary / Math.max(...fuses, 1e-3),
    anode: Math.max(0, ...anodes),
    resistor: Math.max(0, ...resistors),
  };
}

/** Logarithm of the chance of the signs that were seen, under a fault. */
export function logSigns(seen: readonly string[], stress: Stress, healthy: Stress): number {
  return seen.reduce((sum, sign) => {
    const there = isThere(sign, stress, healthy);
    return there === null ? sum : sum + Math.log(there ? chances.there : chances.notThere);
  }, 0);
}

function isThere(sign: string, stress: Stress, healthy: Stress): boolean | null {
  switch (sign) {
    case 'lamp stays bright':
    case 'fuse blew':
      return stress.fuse > begins.fuse || stress.fuse > 2 * healthy.fuse;
    case 'red anode':
      return stress.anode > begins.anode * healthy.anode;
    case 'smoke or smell':
    case 'hot part':
      return stress.resistor > begins.resistor || stress.anode > begins.anode * healthy.anode;
    default:
      return null;
  }
}
