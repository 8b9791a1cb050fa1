import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { type Random, seededRandom } from '../../../shared-core/numerics/random.ts';
import { solveCase } from './solve-case.ts';
import { faultsOf, type Subject } from './subjects.ts';

const seed = 20_251;

/** What the stress set came to. */
export interface StressFigures {
  readonly cases: number;
  readonly direct: number;
  readonly stepped: number;
  readonly unsolved: readonly string[];
  /** Quantiles of the Newton iterations: half, 99 in a hundred, all. */
  readonly iterations: readonly [number, number, number];
  readonly residualAmps: number;
}

/** Solves subjects in turn, every value scattered and with none to three faults at once. */
export function runStress(subjects: readonly Subject[], cases: number): StressFigures {
  const random = seededRandom(seed);
  const counts: number[] = [];
  const unsolved: string[] = [];
  let [stepped, residualAmps] = [0, 0];
  for (let index = 0; index < cases; index++) {
    const subject = subjects[index % subjects.length]!;
    const { of, titles } = addFaults(subject.sample(random), Math.floor(4 * random()), random);
    const solved = solveCase(of);
    if (!solved.converged) {
      const { failure } = solved.solver.outcome;
      unsolved.push(`${subject.group} ${subject.condition}: ${titles.join(', ')} (${failure?.kind})`);
      continue;
    }
    if (!solved.isDirect) stepped++;
    counts.push(solved.iterations);
    residualAmps = Math.max(residualAmps, solved.residualAmps);
  }
  counts.sort((a, b) => a - b);
  const at = (part: number): number => counts[Math.min(counts.length - 1, Math.floor(part * counts.length))]!;
  return {
    ...{ cases, direct: counts.length - stepped, stepped, unsolved, residualAmps },
    iterations: [at(0.5), at(0.99), at(1)],
  };
}

function addFaults(of: Circuit, count: number, random: Random): { of: Circuit; titles: string[] } {
  const titles: string[] = [];
  let faulty = of;
  for (let fault = 0; fault < count; fault++) {
    const choices = faultsOf(faulty);
    const { title, elements } = choices[Math.floor(random() * choices.length)]!;
    titles.push(title);
    // Each bridge and each open end is one of its own.
    const own = elements.map((each) => ({
      ...each,
      id: each.id === 'short' ? `short${fault}` : each.id,
      nets: each.nets.map((net) => (net === 'cut' ? `cut${fault}` : net)),
    }));
    faulty = { ...faulty, elements: own };
  }
  return { of: faulty, titles };
}
