import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import { plainBench } from '../../shared-core/prediction/bench.ts';

/** The mains that a kit as chosen is made for, assumed and not measured. */
export function nominalMains(chosen: ChosenKit): Bench['mains'] {
  const transformer = chosen.parts.find((part) => part.kind === 'mains-transformer');
  const volts = transformer?.primary.volts ?? plainBench.mains.volts;
  const stated = /(\d+)\s*Hz/.exec(Object.values(chosen.choices).join(' '))?.[1];
  // 60 Hz goes with the voltages around 120 V wherever the kit does not say.
  return { volts, hertz: stated === undefined ? (volts < 160 ? 60 : 50) : Number(stated), source: 'assumed' };
}

/** The bench that is computed with until the builder's own is recorded. */
export function nominalBench(chosen: ChosenKit): Bench {
  return { ...plainBench, mains: nominalMains(chosen) };
}
