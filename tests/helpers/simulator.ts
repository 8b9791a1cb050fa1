import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface, type Interface } from 'node:readline';
import { fileURLToPath } from 'node:url';

/**
 * The settings at which the reference is trusted, for `.op` and `.tran` alike.
 *
 * At the simulator's own defaults it is off by up to 4e-4.
 */
export const tightOptions =
  '.options reltol=1e-6 vntol=1e-8 abstol=1e-14 itl1=300 itl4=100 gmin=1e-12 temp=27 tnom=27';

/** Longest answer of one run, in characters: a runaway netlist must not fill the memory. */
const longestAnswer = 64e6;
/** Longest time of one run, in milliseconds. */
const longestRun = 60_000;

/** Columns of one run by variable name, in lower case as the simulator prints them. */
export type SimulatorResult = ReadonlyMap<string, readonly number[]>;

/**
 * The reference simulator (ngspice as WASM, npm eecircuit-engine) in a process of its own.
 *
 * One run at a time. Long netlists can kill the process: the run is then rejected, the tests go on.
 */
export class Simulator {
  #child: ChildProcess | null = null;
  #lines: Interface | null = null;

  /**
   * Runs a netlist.
   *
   * @param expected Variables that must be there, with finite values: a mistyped netlist gives none.
   */
  async run(netlist: string, expected: readonly string[]): Promise<SimulatorResult> {
    const line = await this.#ask(JSON.stringify({ netlist }));
    const answer = JSON.parse(line) as { error?: string; names: string[]; columns: number[][] };
    if (answer.error !== undefined) throw new Error(`the simulator complains: ${answer.error}`);
    const result = new Map(answer.names.map((name, index) => [name.toLowerCase(), answer.columns[index]!]));
    for (const name of expected) {
      const values = result.get(name.toLowerCase());
      if (!values || values.length === 0 || values.some((value) => !Number.isFinite(value))) {
        throw new Error(`the simulator gives no finite ${name}; it gives ${answer.names.join(', ')}`);
      }
    }
    return result;
  }

  /** Ends the process. */
  stop(): void {
    this.#lines?.close();
    this.#child?.kill();
    this.#child = null;
  }

  #ask(request: string): Promise<string> {
    this.#child ??= this.#start();
    const [child, lines] = [this.#child, this.#lines!];
    return new Promise((resolve, reject) => {
      const finish = (act: () => void): void => {
        clearTimeout(timer);
        lines.removeAllListeners('line');
        child.removeAllListeners('exit');
        act();
      };
      const fail = (why: string): void => {
        finish(() => reject(new Error(why)));
        this.stop();
      };
      const timer = setTimeout(() => fail('the simulator took too long'), longestRun);
      lines.once('line', (line) =>
        line.length > longestAnswer ? fail('the simulator said too much') : finish(() => resolve(line)),
      );
      child.once('exit', (code) => fail(`the simulator died with code ${code}`));
      child.stdin!.write(`${request}\n`);
    });
  }

  #start(): ChildProcess {
    const script = fileURLToPath(new URL('simulator-child.mjs', import.meta.url));
    const child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'ignore'] });
    this.#lines = createInterface({ input: child.stdout });
    return child;
  }
}

/** Mean of a sampled curve between two times by the trapezoid rule, over the samples' own steps. */
export function meanBetween(
  times: readonly number[],
  values: readonly number[],
  from: number,
  to: number,
): number {
  let area = 0;
  for (let index = 1; index < times.length; index++) {
    const [start, end] = [Math.max(from, times[index - 1]!), Math.min(to, times[index]!)];
    if (end <= start) continue;
    area += ((end - start) * (valueAt(times, values, index, start) + valueAt(times, values, index, end))) / 2;
  }
  return area / (to - from);
}

/** Value at a time between sample `index − 1` and sample `index`. */
function valueAt(times: readonly number[], values: readonly number[], index: number, time: number): number {
  const [t0, t1] = [times[index - 1]!, times[index]!];
  const share = t1 > t0 ? (time - t0) / (t1 - t0) : 1;
  return values[index - 1]! + share * (values[index]! - values[index - 1]!);
}
