import type { Reading } from '../kit/kit.ts';
import type { SafetyState } from '../safety/energy-state.ts';
import type { StepFacts } from '../safety/facts.ts';
import { soakBegun } from '../safety/soak.ts';
import type { Stamp } from '../safety/stamp.ts';
import type { BuildState } from './build-state.ts';

/** One number of a reading while it is left on. */
export interface SoakPoint {
  /** Since the soak began, in seconds (s); negative for the one before it. */
  readonly seconds: number;
  /** In the reading's SI unit. */
  readonly value: number;
}

/** One time at which a reading is due. */
export interface SoakDue {
  /** Since the soak began, in seconds (s). */
  readonly seconds: number;
  /** `now` until the next one is due; the last one stays `now` until it is read. */
  readonly is: 'taken' | 'now' | 'missed' | 'later';
}

/** A reading over the time of a soak. */
export interface SoakRow {
  readonly reading: string;
  /** In the order of time: the last one before the soak, then all since. */
  readonly points: readonly SoakPoint[];
  readonly due: readonly SoakDue[];
  /** The last number against the first, as a share of the first; null with fewer than two, or a first of zero. */
  readonly drift: number | null;
}

/** A soak under way. */
export interface SoakLog {
  /** Since it began, in seconds (s). */
  readonly passedSeconds: number;
  /** To go, in seconds (s). */
  readonly leftSeconds: number;
  readonly rows: readonly SoakRow[];
}

/** What of a kit's reading the log needs. */
export type RepeatedReading = Pick<Reading, 'id' | 'repeatAfterSeconds'>;

/**
 * The readings of a soak step over its time: when each is due, what was read, how far it drifted.
 *
 * A reading is due at its own `repeat-after` times and at the end; only the end is asked for by the rules. Numbers
 * are placed by their wall time, which is recorded with them: to be looked at, and judged by nothing.
 *
 * @param safety The energy state as it stands now.
 * @returns Null while the time does not run.
 */
export function soakLog(
  step: StepFacts,
  readings: readonly RepeatedReading[],
  build: Pick<BuildState, 'readings'>,
  safety: SafetyState,
  now: Stamp,
): SoakLog | null {
  const begun = soakBegun(step, safety);
  if (begun === null || step.action.kind !== 'soak') return null;
  const { seconds } = step.action;
  const passedSeconds = (now.tick - begun.tick) / 1000;
  const rows = step.action.readings.map((id): SoakRow => {
    const repeats = readings.find((each) => each.id === id)?.repeatAfterSeconds ?? [];
    const points = pointsSince(build.readings[id]?.entries ?? [], begun, safety);
    return {
      reading: id,
      points,
      due: dueTimes(repeats, seconds, points, passedSeconds),
      drift: driftOf(points),
    };
  });
  return { passedSeconds, leftSeconds: Math.max(seconds - passedSeconds, 0), rows };
}

type Entries = BuildState['readings'][string]['entries'];

/** The last number before the soak in the same stay on the supply, then all since. */
function pointsSince(entries: Entries, begun: Stamp, { energy }: SafetyState): readonly SoakPoint[] {
  if (energy.kind !== 'live') return [];
  const from = Date.parse(energy.since.at);
  const start = Date.parse(begun.at);
  const points = entries.flatMap(({ at, entry, condition }): SoakPoint[] => {
    const time = Date.parse(at);
    const isHere = condition === energy.condition && time >= from && entry.kind === 'value';
    return isHere ? [{ seconds: (time - start) / 1000, value: entry.value }] : [];
  });
  const before = points.filter((each) => each.seconds < 0);
  return [...before.slice(-1), ...points.filter((each) => each.seconds >= 0)];
}

function dueTimes(
  repeats: readonly number[],
  endSeconds: number,
  points: readonly SoakPoint[],
  passedSeconds: number,
): readonly SoakDue[] {
  const inside = repeats.filter((each) => each < endSeconds);
  const times = [...new Set([...inside, endSeconds])].sort((one, other) => one - other);
  return times.map((seconds, index) => {
    const next = times[index + 1] ?? Number.POSITIVE_INFINITY;
    const isTaken = points.some((point) => point.seconds >= seconds && point.seconds < next);
    if (isTaken) return { seconds, is: 'taken' };
    if (passedSeconds < seconds) return { seconds, is: 'later' };
    return { seconds, is: passedSeconds < next ? 'now' : 'missed' };
  });
}

function driftOf(points: readonly SoakPoint[]): number | null {
  const [first] = points;
  const last = points.at(-1);
  if (first === undefined || last === undefined || first === last || first.value === 0) return null;
  return (last.value - first.value) / Math.abs(first.value);
}
