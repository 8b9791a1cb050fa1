import type { BuildState, StepRecord } from './build-state.ts';
import type { JournalEntry } from './journal-entry.ts';

const untouched: StepRecord = {
  status: 'started',
  ticked: [],
  startedAt: null,
  doneAt: null,
  seconds: null,
  startedRun: null,
  startedTick: null,
  reopened: 0,
};

/** Steps: status and ticks are the safety machine's; here their times are added. */
export function foldSteps(build: BuildState, entry: JournalEntry): BuildState {
  const steps = Object.entries(build.safety.steps).map(([id, standing]) => {
    const before = build.steps[id];
    const started = before ?? startOf(entry);
    const isNewlyDone = standing.status === 'done' && before?.status !== 'done';
    const isReopened = standing.status === 'reopened' && before?.status !== 'reopened';
    const timed = isNewlyDone ? doneAt(started, entry) : started;
    return [
      id,
      {
        ...timed,
        status: standing.status,
        ticked: standing.ticked,
        reopened: timed.reopened + (isReopened ? 1 : 0),
      },
    ];
  });
  return { ...build, steps: Object.fromEntries(steps) };
}

function startOf({ at, run, tick }: JournalEntry): StepRecord {
  return { ...untouched, startedAt: at, startedRun: run, startedTick: tick };
}

function doneAt(step: StepRecord, { at, run, tick }: JournalEntry): StepRecord {
  const isOneRun = step.startedRun === run && step.startedTick !== null;
  return { ...step, doneAt: at, seconds: isOneRun ? (tick - (step.startedTick ?? tick)) / 1000 : null };
}
