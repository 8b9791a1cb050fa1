import type { CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { Solver } from '../../shared-core/circuit/solver.ts';
import { triode } from '../../shared-core/devices/triode.ts';
import { planElimination, runElimination } from '../../shared-core/numerics/elimination-plan.ts';
import { c, circuit, element, r, v } from '../helpers/circuit.ts';
import type { BenchLine } from './main.ts';

/** Stages of an endless amplifier: 8, 16 … 300 unknowns and a few. */
const stageCounts = [2, 4, 10, 30, 60, 75];
/** Multiply-adds run for each size. */
const work = 4e7;

/**
 * Elimination by the compiled list: time per listed multiply-add from some 10 to some 300 unknowns, with fill.
 *
 * Counted are the multiply-adds of rows, right-hand sides and back substitution, and the divisions.
 */
export function eliminationBench(): Promise<readonly BenchLine[]> {
  const runs = stageCounts.map((stages) => {
    const solver = new Solver(circuit(...amplifier(stages)));
    if (!solver.solve().converged) throw new Error(`${stages} stages do not converge`);
    const { size } = solver;
    const { entryRows, entryColumns, entries } = solver.compiled;
    const full = solver.linearise().derivatives();
    const values = Float64Array.from({ length: entries }, (_, entry) => {
      return full[entryRows[entry]! * size + entryColumns[entry]!]!;
    });
    const plan = planElimination(size, entryRows, entryColumns, values);
    if (!plan) throw new Error('no order of elimination was found');
    const listed = countListed(plan.program, plan.starts);
    const [now, right, out] = [new Float64Array(plan.slots), new Float64Array(size), new Float64Array(size)];
    const run = (times: number): number => {
      const from = performance.now();
      for (let time = 0; time < times; time++) {
        now.fill(0);
        now.set(values);
        right.fill(1);
        if (!runElimination(plan, now, right, out)) throw new Error('a pivot vanished');
      }
      return performance.now() - from;
    };
    const times = Math.ceil(work / listed);
    run(Math.ceil(times / 10));
    const spent = Math.min(run(times), run(times), run(times));
    return {
      size,
      entries,
      fill: plan.slots - entries,
      listed,
      nanoseconds: (1e6 * spent) / (times * listed),
    };
  });
  const each = runs.map(({ nanoseconds }) => nanoseconds);
  return Promise.resolve([
    ...runs.flatMap(({ size, entries, fill, listed, nanoseconds }): BenchLine[] => [
      {
        what: `${size} unknowns: ${entries} entries, fill ${fill}, ${listed} multiply-adds`,
        value: nanoseconds,
        unit: 'ns each',
      },
    ]),
    {
      what: 'slowest over fastest (two at most)',
      value: Math.max(...each) / Math.min(...each),
      unit: '×',
      atMost: 2,
    },
  ]);
}

function countListed(program: Int32Array, starts: Int32Array): number {
  let sum = 0;
  for (const at of starts) {
    const [count, below] = [program[at + 3]!, program[at + 4]!];
    sum += below * (count + 2) + count + 1;
  }
  return sum;
}

/** Triode stages one after the other on one decoupled supply line: four unknowns each. */
function amplifier(stages: number): readonly CircuitElement[] {
  const elements: CircuitElement[] = [v('B', 'b0', 300), r('Rin', 'g0', 'gnd', 1e6)];
  for (let stage = 0; stage < stages; stage++) {
    const [supply, anode, grid, cathode] = [`b${stage}`, `a${stage}`, `g${stage}`, `k${stage}`];
    elements.push(
      r(`Ra${stage}`, supply, anode, 100e3),
      r(`Rk${stage}`, cathode, 'gnd', 1500),
      r(`Rb${stage}`, supply, `b${stage + 1}`, 100),
      c(`Cb${stage}`, `b${stage + 1}`, 'gnd', 22e-6),
      c(`Cc${stage}`, anode, `g${stage + 1}`, 22e-9),
      r(`Rg${stage + 1}`, `g${stage + 1}`, 'gnd', 470e3),
      element(`V${stage}`, triode, [anode, grid, cathode]),
    );
  }
  return elements;
}
