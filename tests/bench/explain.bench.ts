import { explain } from '../../shared-core/faults/explain.ts';
import { openGate } from '../../shared-core/faults/gate.ts';
import { rankCauses } from '../../shared-core/faults/rank-causes.ts';
import { seededRandom } from '../../shared-core/numerics/random.ts';
import { drawFault, drawFaulty, openFaultSubject, takenOf } from '../study/explain.study.ts';
import { chooseStudyKit } from '../study/study-kits.ts';
import type { BenchLine } from './main.ts';

/** Faulty builds that are asked about; each makes its own set of readings. */
const asked = 25;

/** From a reading to the ranked causes on the largest kit, its list of faults built ahead. */
export async function explainBench(): Promise<readonly BenchLine[]> {
  const from = performance.now();
  const subject = openFaultSubject(chooseStudyKit('curlew'));
  const built = performance.now() - from;
  const { model } = subject.ready;
  const random = seededRandom(1);
  const ranked: number[] = [];
  const whole: number[] = [];
  for (let count = 0; count < asked; count += 1) {
    const truth = model.faults[drawFault(subject, random)]!;
    const all = takenOf(drawFaulty(subject, truth.fault.built, random), subject.places);
    const taken = all.slice(0, Math.ceil(all.length * (0.3 + 0.7 * random())));
    const start = performance.now();
    openGate(
      model,
      taken.map(({ place }) => place),
    ).judge(taken.map(({ value }) => value));
    rankCauses(model, taken);
    ranked.push(performance.now() - start);
    const question = taken.map(({ place, value }) => ({
      id: model.readings[place]!.id,
      value: value === Infinity ? null : value,
    }));
    const again = performance.now();
    explain(subject.ready, { taken: question });
    whole.push(performance.now() - again);
  }
  return [
    { what: `Curlew: ${model.faults.length} circuits with one fault, built ahead`, value: built, unit: 'ms' },
    { what: 'Curlew: reading to ranked causes, median', value: median(ranked), unit: 'ms', atMost: 100 },
    { what: 'Curlew: with slips and the next measurement, median', value: median(whole), unit: 'ms' },
  ];
}

function median(values: readonly number[]): number {
  return values.toSorted((one, other) => one - other)[Math.floor(values.length / 2)] ?? 0;
}
