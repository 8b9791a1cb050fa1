import { fork } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import type { Answer, Arguments, BlobName, Blobs, CallName } from '../../../shared-core/contract/calls.ts';
import { root } from '../../run/child.mjs';
import type { HostAnswer, HostCommand, HostStart } from './messages.ts';

/** How long a host may take to start or to obey, in milliseconds (ms): a busy machine's worth. */
const patienceMs = 60_000;

/** A build is begun on this day in every test. */
const firstDay = '2026-03-07T09:00:00.000Z';

type Ready = Extract<HostAnswer, { kind: 'ready' }>;

/** A host in a process of its own on a data folder of its own: it can be killed and started again. */
export class HostProcess {
  readonly dataFolder: string;
  /** Faults of our own that the host reported; a test expects none. */
  readonly faults: string[] = [];
  private child: ChildProcess | null = null;
  private ready: Ready | null = null;
  private at = firstDay;
  private lastId = 0;
  private readonly waiting = new Map<number, () => void>();

  constructor(dataFolder: string) {
    this.dataFolder = dataFolder;
  }

  /** Starts it; after `kill`, half a minute later by its clock. */
  async start(): Promise<void> {
    const given: HostStart = { dataFolder: this.dataFolder, startAt: this.at };
    const child = fork(join(root, 'tests/helpers/hand-host/run-bundled.mjs'), [JSON.stringify(given)], {
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      // Not the loader of the test runner.
      execArgv: [],
    });
    this.child = child;
    this.ready = await new Promise<Ready>((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error('The host did not start.')), patienceMs);
      child.on('message', (answer: HostAnswer) => {
        if (answer.kind === 'ready') {
          clearTimeout(timer);
          resolve(answer);
        } else this.hear(answer);
      });
      child.on('exit', (code) => {
        clearTimeout(timer);
        reject(new Error(`The host ended with code ${code}.`));
      });
    });
  }

  /** The address to open, with its token. */
  get url(): string {
    return this.running().url;
  }

  get origin(): string {
    return `http://127.0.0.1:${this.running().port}`;
  }

  /** Time passes as it does, in seconds (s). */
  pass(seconds: number): Promise<void> {
    return this.tell({ kind: 'pass', id: this.nextId(), milliseconds: seconds * 1000 });
  }

  /** The wall clock alone moves, in seconds (s). */
  jump(seconds: number): Promise<void> {
    return this.tell({ kind: 'jump', id: this.nextId(), milliseconds: seconds * 1000 });
  }

  /** `kill -9`: nothing is written, nothing is said. */
  async kill(): Promise<void> {
    const { child } = this;
    this.child = null;
    this.ready = null;
    this.waiting.clear();
    this.at = new Date(Date.parse(this.at) + 30_000).toISOString();
    if (child === null || child.exitCode !== null) return;
    const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
    child.kill('SIGKILL');
    await gone;
  }

  /** Asks the host directly, as a second screen would. */
  async call<Name extends CallName>(name: Name, given: Arguments<Name>): Promise<Answer<Name>> {
    const response = await this.post(`/call/${name}`, given);
    if (!response.ok) throw new Error(`${name}: ${response.status} ${await response.text()}`);
    return (await response.json()) as Answer<Name>;
  }

  async blob<Name extends BlobName>(name: Name, given: Blobs[Name]): Promise<Response> {
    return this.post(`/blob/${name}`, given);
  }

  private post(path: string, given: unknown): Promise<Response> {
    return fetch(`${this.origin}${path}`, {
      method: 'POST',
      headers: { authorization: `Bearer ${this.running().token}`, 'content-type': 'application/json' },
      body: JSON.stringify(given),
    });
  }

  private running(): Ready {
    if (this.ready === null) throw new Error('The host is not running.');
    return this.ready;
  }

  private nextId(): number {
    this.lastId += 1;
    return this.lastId;
  }

  private tell(command: HostCommand): Promise<void> {
    const { child } = this;
    if (child === null) throw new Error('The host is not running.');
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`The host did not ${command.kind}.`)), patienceMs);
      this.waiting.set(command.id, () => {
        clearTimeout(timer);
        resolve();
      });
      child.send(command);
    });
  }

  private hear(answer: Exclude<HostAnswer, { kind: 'ready' }>): void {
    if (answer.kind === 'fault') {
      this.faults.push(answer.message);
      return;
    }
    this.at = answer.at;
    this.waiting.get(answer.id)?.();
    this.waiting.delete(answer.id);
  }
}
