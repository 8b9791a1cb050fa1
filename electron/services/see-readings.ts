import type { TakenReading, Together } from '../../shared-core/bands/see-together.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { Engine, JobOrder } from '../engine-worker/engine.ts';
import type { HashedKit } from '../engine-worker/together-job.ts';

/** More turns than any kit has conditions: beyond, the engine keeps forgetting. */
const mostTurns = 200;

/** The readings of a build that count, in the order of their last number; OL and warming ones say nothing. */
export function takenReadings({ readings }: Pick<BuildState, 'readings'>): readonly TakenReading[] {
  return Object.entries(readings)
    .flatMap(([id, { entries, counts, verdict }]) => {
      const last = entries.at(-1);
      const isGood = verdict === 'as expected' || verdict === 'borderline';
      const isJudged = isGood || verdict === 'out of band';
      return counts && isJudged && last?.entry.kind === 'value'
        ? [{ seq: last.seq, taken: { id, value: last.entry.value, isGood } }]
        : [];
    })
    .sort((one, other) => one.seq - other.seq)
    .map(({ taken }) => taken);
}

/**
 * Sees a build's readings together, in the engine, in turns: other jobs get in between, and a newer question of the
 * same slot ends this one.
 */
export async function seeReadings(
  engine: Engine,
  kit: HashedKit,
  build: Pick<BuildState, 'readings'>,
  { key, slot }: JobOrder,
): Promise<Result<Together>> {
  const taken = takenReadings(build);
  if (taken.length === 0) return succeed({ judgement: null, fromOthers: {}, moved: [] });
  const question = `${key}\n${JSON.stringify(taken)}`;
  for (let turn = 0; turn < mostTurns; turn += 1) {
    const made = await engine.run('together', { ...kit, taken }, { key: `${question}\n${turn}`, slot });
    if (!made.ok) return made;
    if (made.value.kind === 'ready') return succeed(made.value.together);
  }
  return fail({
    code: 'predict/failed',
    severity: 'error',
    message: 'The readings could not be seen together',
    hint: 'Each reading is judged by itself as before.',
  });
}
