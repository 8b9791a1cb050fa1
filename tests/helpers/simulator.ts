import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { createInterface, type Interface } from 'node:readline';

import type { Circuit } from '../../shared-core/circuit/circuit.ts';
import { type NetlistOptions, writeNetlist } from './netlist.ts';

/** Longest answer of one run, in characters: a runaway netlist must not fill the memory. */
const longestAnswer = 64e6;
/** Longest time of one run, in milliseconds, where none is given. */
const usualLongestRun = 60_000;
const tookTooLong = 'the simulator took too long';

type SimulatorValue = number | { readonly real: number; readonly img: number };

/** What one run printed and gave. */
export interface SimulatorRun {
  /** Lines that begin with "Error" or "Warning": a broken netlist is answered, not refused. */
  readonly errors: readonly string[];
  readonly names: readonly string[];
  readonly columns: readonly (readonly SimulatorValue[])[];
}

/** The reference simulator (npm eecircuit-engine, ngspice as WASM) in a process of its own, one run at a time. */
export class Simulator {
  #child: ChildProcess | null = null;
  #lines: Interface | null = null;
  readonly #longestRun: number;

  /** @param longestRun Longest time of one run, in milliseconds. */
  constructor(longestRun = usualLongestRun) {
    this.#longestRun = longestRun;
  }

  /** As `run`, with a run that takes too long as one more complaint. */
  async tryRun(netlist: string): Promise<SimulatorRun> {
    return this.run(netlist).catch((error: unknown) => {
      if (!(error instanceof Error) || error.message !== tookTooLong) throw error;
      return { errors: [tookTooLong], names: [], columns: [] };
    });
  }

  /** Runs a netlist and gives back what came, complaints included. */
  async run(netlist: string): Promise<SimulatorRun> {
    return JSON.parse(await this.#ask(JSON.stringify({ netlist }))) as SimulatorRun;
  }

  /** Voltage of every net but the reference, in volts (V). */
  async operatingPoint(circuit: Circuit, options: NetlistOptions = {}): Promise<Record<string, number>> {
    const values = await this.#netValues(circuit, ['.op'], options);
    return Object.fromEntries([...values].map(([net, value]) => [net, value as number]));
  }

  /** Complex voltage of every net but the reference for 1 V of small signal in a voltage source. */
  async smallSignal(
    circuit: Circuit,
    movedSource: string,
    hertz: number,
  ): Promise<Record<string, [number, number]>> {
    const values = await this.#netValues(circuit, [`.ac lin 1 ${hertz} ${hertz}`], { movedSource });
    return Object.fromEntries(
      [...values].map(([net, value]) => {
        if (typeof value === 'number') throw new Error(`the simulator gives no complex ${net}`);
        return [net, [value.real, value.img]];
      }),
    );
  }

  /** Ends the process. */
  close(): void {
    this.#lines?.close();
    this.#child?.kill();
    this.#child = null;
  }

  async #netValues(
    circuit: Circuit,
    commands: readonly string[],
    options: NetlistOptions,
  ): Promise<Map<string, SimulatorValue>> {
    const { text, nodes } = writeNetlist(circuit, commands, options);
    const { errors, names, columns } = await this.run(text);
    if (errors.length > 0) throw new Error(`the simulator complains: ${errors.join('; ')}`);
    const values = new Map<string, SimulatorValue>();
    for (const [net, node] of nodes) {
      if (node === '0') continue;
      const value = columns[names.findIndex((name) => name.toLowerCase() === `v(${node})`)]?.[0];
      if (value === undefined) throw new Error(`the simulator gives no voltage of ${net}`);
      values.set(net, value);
    }
    return values;
  }

  #ask(request: string): Promise<string> {
    this.#child ??= this.#start();
    const [child, lines] = [this.#child, this.#lines!];
    return new Promise((settle, reject) => {
      const finish = (act: () => void): void => {
        clearTimeout(timer);
        lines.removeAllListeners('line');
        child.removeAllListeners('exit');
        act();
      };
      const fail = (why: string): void => {
        finish(() => reject(new Error(why)));
        this.close();
      };
      const timer = setTimeout(() => fail(tookTooLong), this.#longestRun);
      lines.once('line', (line) =>
        line.length > longestAnswer ? fail('the simulator said too much') : finish(() => settle(line)),
      );
      child.once('exit', (code) => fail(`the simulator died with code ${code}`));
      child.stdin!.write(`${request}\n`);
    });
  }

  #start(): ChildProcess {
    // From the repository root, where tests and bundled scripts both run.
    const script = resolve('tests/helpers/simulator-child.mjs');
    const child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'ignore'] });
    this.#lines = createInterface({ input: child.stdout });
    return child;
  }
}
