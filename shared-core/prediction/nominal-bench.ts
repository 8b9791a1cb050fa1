import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { MainsTransformerPart } from '../kit/kit.ts';
import { primaryInUse } from '../kit/transformer-ends.ts';
import { type Bench, type Fitted, plainBench } from './bench.ts';
import { wireCondition } from './wiring.ts';

/** Nothing but what the kit file says. */
export const asInKit: Fitted = { measured: {}, valves: {} };

/** Mains of North America and Japan runs below this, in volts (V), and at 60 Hz as far as kits are made for it. */
const lowMainsVolts = 160;

/** The plain bench on the mains that the chosen transformer is for. */
export function nominalBench(chosen: ChosenKit): Bench {
  const transformer = chosen.parts.find((part) => part.kind === 'mains-transformer');
  if (transformer?.kind !== 'mains-transformer') return plainBench;
  const volts = madeForVolts(chosen, transformer);
  return { ...plainBench, mains: { volts, hertz: volts < lowMainsVolts ? 60 : 50, source: 'assumed' } };
}

/**
 * Mains that a transformer is for, rms (V): the tap that the kit wires decides, with every switch on.
 *
 * Where it is not on the mains at all, the volts that its windings are stated for.
 */
export function madeForVolts(chosen: ChosenKit, part: MainsTransformerPart): number {
  if (!part.primary.taps) return part.primary.volts;
  const switches = chosen.parts.filter(({ kind }) => kind === 'switch').map(({ id }) => [id, 'on'] as const);
  const { netAt } = wireCondition(chosen, { switches: Object.fromEntries(switches) });
  return primaryInUse(part, netAt, netAt('inlet.line'), netAt('inlet.neutral'))?.volts ?? part.primary.volts;
}
