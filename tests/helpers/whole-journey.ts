import { createEngine } from '../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../electron/engine-worker/workplaces.ts';
import type { BuildView } from '../../shared-core/contract/calls.ts';
import { startTestHost } from './start-host.ts';
import { Walker, walkBench } from './walk-kit.ts';

/** A build of a kit of ours, and the bench it is built at. */
export interface Journey {
  readonly kit: string;
  readonly choices: Readonly<Record<string, string>>;
  /** The filament lamp in the limiter, in watts (W). */
  readonly lampWatts: number;
}

/** Where a journey came to. */
export interface Journeyed {
  readonly view: BuildView;
  /** What all readings say together, in the words of the report. */
  readonly together: string;
  readonly report: Uint8Array;
}

/**
 * Builds a kit from loose parts to its signature over the host's own calls, every reading as predicted.
 *
 * Throws with what was refused and at which step.
 */
export async function wholeJourney({ kit, choices, lampWatts }: Journey): Promise<Journeyed> {
  const host = await startTestHost({ engine: createEngine(localWorkplace) });
  try {
    const { kits } = await host.call('app.hello', {});
    const path = kits.find(({ id }) => id === kit)?.path ?? '';
    const started = await host.call('build.start', { path, choices, startedFrom: 'loose parts' });
    if (!started.ok) throw new Error(started.problems[0].message);
    const walker = new Walker(host, started.value);
    const is120 = choices['mains']?.startsWith('120') === true;
    const own = is120 ? ({ volts: 120, hertz: 60 } as const) : {};
    const bench = { ...walkBench, mains: { ...walkBench.mains, ...own }, lampWatts };
    await walker.do({ kind: 'bench-recorded', by: 'hand', bench });
    await walker.walkTo('sign-report');
    const step = 'sign-report';
    await walker.do({ kind: 'step-started', by: 'hand', step });
    await walker.do({ kind: 'signed', by: 'hand', name: 'J. M.' });
    await walker.do({ kind: 'step-done', by: 'hand', step });
    const { build } = walker.view.build;
    const seen = await host.call('predict.together', { build });
    const report = await host.blob('report', { build });
    return {
      view: walker.view,
      together: seen.ok ? (seen.value.judgement?.words ?? '') : seen.problems[0].message,
      report: new Uint8Array(await report.arrayBuffer()),
    };
  } finally {
    await host.close();
  }
}

/** Readings of a build that are neither as expected nor without a prediction, with their verdicts. */
export function readingsOff({ build }: BuildView): readonly string[] {
  return Object.entries(build.readings).flatMap(([id, { verdict }]) =>
    verdict === 'as expected' || verdict === 'not predicted' ? [] : [`${id}: ${verdict}`],
  );
}
