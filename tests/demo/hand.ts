import type {
  ActOutcome,
  BuilderAction,
  BuildView,
  JudgedReading,
} from '../../shared-core/contract/calls.ts';
import type { Choices } from '../../shared-core/kit/kit.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { formatProblems } from '../../shared-core/problem/format-problem.ts';
import { initialSettings } from '../../shared-core/contract/settings.ts';
import type { Settings } from '../../shared-core/contract/settings.ts';
import type { MeterSetup } from '../../shared-core/safety/events.ts';
import { createEngine } from '../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../electron/engine-worker/workplaces.ts';
import { createServices } from '../../electron/services/services.ts';
import type { Services } from '../../electron/services/services.ts';
import { appVersion } from '../../electron/services/version.ts';

/** One meter setting for all looks at stores. */
export const dcSetup: MeterSetup = { function: 'dc volts', range: 'auto', leads: 'red and black pair' };

/**
 * An invented builder's hand on the real services: every action goes through contract, rules, journal and disk.
 *
 * The clock is a fake one that this hand moves; a restart closes the services and starts new ones on the same
 * data folder, as closing and opening the app does.
 */
export class Hand {
  private services: Services;
  private readonly dataFolder: string;
  private wallMs: number;
  private tick = 1_000;
  private seen: BuildView | null = null;

  constructor(dataFolder: string, startAt: string) {
    this.dataFolder = dataFolder;
    this.wallMs = Date.parse(startAt);
    this.services = this.openServices();
  }

  /** The build as the screen would show it. */
  get view(): BuildView {
    if (this.seen === null) throw new Error('No build was started');
    return this.seen;
  }

  get calls(): Services['calls'] {
    return this.services.calls;
  }

  get blobs(): Services['blobs'] {
    return this.services.blobs;
  }

  /** The fake clocks now. */
  get now(): { readonly wallMs: number; readonly tick: number } {
    return { wallMs: this.wallMs, tick: this.tick };
  }

  /** Both clocks run on, in seconds (s). */
  wait(seconds: number): void {
    this.wallMs += Math.round(seconds) * 1000;
    this.tick += Math.round(seconds) * 1000;
  }

  async start(path: string, choices: Choices): Promise<void> {
    this.seen = mustHave(await this.calls['build.start']({ path, choices, startedFrom: 'loose parts' }));
  }

  /** The app is closed, and opened again after so many seconds (s). */
  async restart(seconds: number): Promise<void> {
    const { build } = this.view.build;
    await this.services.close();
    this.wallMs += seconds * 1000;
    this.tick = 1_000;
    this.services = this.openServices();
    this.seen = mustHave(await this.calls['build.open']({ build }));
  }

  /** Does one thing; throws with the reasons when the rules or the disk say no. */
  async act(action: BuilderAction): Promise<JudgedReading | null> {
    const { build, seq } = this.view.build;
    const outcome = await this.calls['build.act']({ build, expectedSeq: seq, action });
    if (outcome.kind !== 'problem') this.seen = outcome.view;
    if (outcome.kind === 'done') return outcome.judged;
    throw new Error(`${action.kind}: ${whyNot(outcome)}`);
  }

  async close(): Promise<void> {
    await this.services.close();
  }

  private openServices(): Services {
    let settings: Settings = initialSettings;
    return createServices({
      dataFolder: this.dataFolder,
      clock: { now: () => ({ at: new Date(this.wallMs).toISOString(), tick: this.tick }) },
      engine: createEngine(localWorkplace),
      settings: { get: () => settings, set: (changes) => (settings = { ...settings, ...changes }) },
      kitFolders: [],
      face: 'browser',
      version: appVersion(),
    });
  }
}

/** The value of a result; throws with its problems. */
export function mustHave<Value>(result: Result<Value>): Value {
  if (result.ok) return result.value;
  throw new Error(formatProblems(result.problems));
}

function whyNot(outcome: Exclude<ActOutcome, { kind: 'done' }>): string {
  switch (outcome.kind) {
    case 'refused':
      return outcome.refusals.map(({ message, hint }) => `${message} ${hint}`).join('\n');
    case 'problem':
      return formatProblems(outcome.problems);
    case 'stale':
      return 'another entry came first';
  }
}
