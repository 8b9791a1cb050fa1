import type { ChosenKit } from '../kit/chosen-kit.ts';
import { type Bench, type Fitted, plainBench } from './bench.ts';

/** Nothing but what the kit file says. */
export const asInKit: Fitted = { measured: {}, valves: {} };

/** Mains of North America and Japan runs below this, in volts (V), and at 60 Hz as far as kits are made for it. */
const lowMainsVolts = 160;

/** The plain bench on the mains that the chosen transformer is for. */
export function nominalBench(chosen: ChosenKit): Bench {
  const transformer = chosen.parts.find((part) => part.kind === 'mains-transformer');
  if (transformer?.kind !== 'mains-transformer') return plainBench;
  const { volts } = transformer.primary;
  return { ...plainBench, mains: { volts, hertz: volts < lowMainsVolts ? 60 : 50, source: 'assumed' } };
}
