import type { AdjusterCurve } from '../../shared-core/prediction/adjuster-curve.ts';
import { adjustersOf } from '../../shared-core/prediction/adjuster-curve.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { basisKey, basisOf } from './facts-source.ts';
import type { ServiceContext } from './service-context.ts';

/** What a build's reading shows at each position of its adjuster, with this build's bench, parts and valves. */
export async function answerAdjuster(
  { engine, shelf }: Pick<ServiceContext, 'engine' | 'shelf'>,
  build: string,
  reading: string,
): Promise<Result<AdjusterCurve | null>> {
  const session = await shelf.session(build);
  if (!session.ok) return session;
  const { kit: chosen, build: state } = session.value.view();
  const condition = chosen.readings.find(({ id }) => id === reading)?.in ?? '';
  const isRead = (id: string): boolean => (state.readings[id]?.entries.length ?? 0) > 0;
  const set = adjustersOf(chosen, condition)
    .map((each) => each.reading.id)
    .filter((id) => id !== reading && isRead(id));
  const basis = basisOf(chosen, state);
  const key = `${basisKey(state.kitHash, chosen, basis)}\n${reading}\n${set.join(' ')}`;
  return engine.run('adjuster', { chosen, ...basis, reading, set }, { key, slot: `${build}\n${reading}` });
}
