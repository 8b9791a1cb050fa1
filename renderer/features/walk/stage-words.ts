import type { ConditionFacts } from '../../../shared-core/safety/facts.ts';
import { isFittedIn } from '../../../shared-core/safety/sockets.ts';
import { lampLimitSeconds } from '../../../shared-core/safety/lamp-limit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';

/** A valve of the kit, as a switch-on looks at it. */
export interface LookedAtValve {
  readonly socket: string;
  readonly is: 'rectifier' | 'gas-filled' | 'heated';
}

/** What a stage will do and look like, and what means that the plug comes out. */
export interface StageWords {
  readonly will: readonly string[];
  readonly wrong: readonly string[];
}

type Stage = Pick<ConditionFacts, 'supply' | 'fitted' | 'lampWatts' | 'readyAfterSeconds'>;

/**
 * What happens when a condition is switched on; null where nothing is switched.
 *
 * How lamps, heaters, rectifiers and transformers look and sound is common practice, no source.
 */
export function stageWords(stage: Stage, valves: readonly LookedAtValve[]): StageWords | null {
  if (stage.supply === 'insulation-tester' || stage.supply === 'unplugged') return null;
  const fitted = valves.filter(({ socket }) => isFittedIn(socket, stage));
  return {
    will: [...lampWords(stage, fitted), ...valveWords(stage, fitted), ...humWords(stage)],
    wrong: [
      ...(stage.supply === 'lamp' ? ['the lamp stays bright'] : []),
      ...(fitted.length === 0 ? [] : ['a flash, blue light or red metal in a valve']),
      'a loud hum, a crackle, smoke or a smell',
    ],
  };
}

function lampWords({ supply, lampWatts }: Stage, fitted: readonly LookedAtValve[]): readonly string[] {
  if (supply !== 'lamp') return [];
  const lamp = lampWatts === null ? 'The lamp' : `The ${formatQuantity(lampWatts, 'W')} lamp`;
  if (fitted.length === 0) return [`${lamp} flashes, then goes dim or dark.`];
  const limit = `Valves stay on the lamp for ${lampLimitSeconds / 60} minutes at most: a clock runs.`;
  return [`${lamp} flashes, then settles to a glow while the heaters draw.`, limit];
}

function valveWords(stage: Stage, fitted: readonly LookedAtValve[]): readonly string[] {
  if (fitted.length === 0) return ['Nothing else lights up: there is no valve in.'];
  const named = (is: LookedAtValve['is']): string =>
    fitted
      .filter((valve) => valve.is === is)
      .map(({ socket }) => socket)
      .join(', ');
  const ready =
    stage.readyAfterSeconds > 0 ? ` The app waits ${stage.readyAfterSeconds}\u202fs before it judges.` : '';
  const words = [
    [named('rectifier'), 'glows dull orange within half a minute; the high tension climbs with it.'],
    [named('heated'), `glow orange in the middle; the grey metal stays grey.${ready}`],
    [named('gas-filled'), 'strikes with a steady soft glow.'],
  ] as const;
  return words.flatMap(([sockets, what]) => (sockets === '' ? [] : [`${sockets}: ${what}`]));
}

function humWords({ supply }: Stage): readonly string[] {
  return supply === 'bench' ? [] : ['The transformer hums faintly, if at all.'];
}
