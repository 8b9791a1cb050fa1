import type { ExplainAnswer } from '../../shared-core/contract/calls.ts';
import type { ExplainQuestion } from '../../shared-core/faults/explain.ts';
import { measurableKit } from '../../shared-core/faults/measurable.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { faultEvidence } from '../../shared-core/journal/fault-evidence.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { isBlocking } from '../../shared-core/safety/lookup.ts';
import type { Engine } from '../engine-worker/engine.ts';
import type { BuildSession } from './build-session.ts';
import { basisOf } from './facts-source.ts';

/** Turns of the engine in one answer: a second or two, so that the screen shows how far it has come. */
const turnsPerAnswer = 4;

/**
 * What explains the readings of a build, as far as the list of faults is there.
 *
 * The screen asks again while it is under way, and no more once it is gone. Advice only: no state depends on it.
 *
 * @param without Readings and actions that the builder cannot do.
 */
export async function explainReadings(
  engine: Engine,
  session: BuildSession,
  without: readonly string[],
): Promise<Result<ExplainAnswer>> {
  const { build } = session;
  const { chosen } = session.parts.source;
  const question = questionOf(build, chosen, without);
  if (question.taken.length === 0) return succeed({ kind: 'nothing' });
  return takeTurns(engine, session, question, 'screen');
}

function questionOf(build: BuildState, chosen: ChosenKit, without: readonly string[]): ExplainQuestion {
  const { energy } = build.safety;
  return {
    ...faultEvidence(build, chosen),
    standing: {
      condition: energy.kind === 'live' ? energy.condition : null,
      without: new Set([...without, ...outOfReach(build, chosen)]),
    },
  };
}

/**
 * Measurements that the rules do not allow now, and those under voltage where the kit has no reading and no gate.
 *
 * While a reading stands open no supply is connected, so that only the condition that is live can be measured in.
 */
function outOfReach({ safety }: BuildState, chosen: ChosenKit): readonly string[] {
  const { energy, readings } = safety;
  const own = new Set(chosen.readings.map(({ id }) => id));
  const live = new Set(chosen.conditions.filter(({ supply }) => supply !== 'unplugged').map(({ id }) => id));
  const isBlocked = Object.values(readings).some(
    ({ verdict, settled }) => isBlocking(verdict) && settled === 'open',
  );
  const here = energy.kind === 'live' && energy.mustPull === null ? energy.condition : null;
  return measurableKit(chosen)
    .readings.filter(({ id, in: at }) => live.has(at) && (!own.has(id) || (isBlocked && at !== here)))
    .map(({ id }) => id);
}

async function takeTurns(
  engine: Engine,
  { parts: { source, header }, build }: BuildSession,
  question: ExplainQuestion | null,
  slot: string,
): Promise<Result<ExplainAnswer>> {
  const { chosen } = source;
  const kit = { chosen, kitHash: build.kitHash, ...basisOf(chosen, build) };
  const order = { key: null, slot: `${header.build}\n${slot}` };
  let [done, of] = [0, 1];
  for (let turn = 0; turn < turnsPerAnswer; turn += 1) {
    const made = await engine.run('explain', { ...kit, question }, order);
    // Somebody else asked, or the same screen anew: whoever still wants it asks again.
    if (!made.ok && made.problems[0].code === 'predict/replaced') break;
    if (!made.ok) return made;
    if (made.value.kind === 'ready') return succeed({ kind: 'ready', explanation: made.value.explanation });
    if (made.value.kind === 'built') return succeed({ kind: 'nothing' });
    ({ done, of } = made.value);
  }
  return succeed({ kind: 'under way', done, of });
}

/** Builds whose list of faults is being made before anybody asks, by what it is made for. */
const ahead = new WeakMap<BuildSession, string>();

/**
 * Makes the list of faults while the amplifier warms up, so that a wrong reading is explained at once.
 *
 * Only where the engine works apart, and not before a supply was connected: until then parts and bench still change.
 */
export async function explainAhead(engine: Engine, session: BuildSession): Promise<void> {
  if (engine.isApart !== true || session.build.safety.energy.kind === 'dead') return;
  const keyOf = (): string => session.parts.source.keyOf(basisOf(session.parts.source.chosen, session.build));
  const key = keyOf();
  if (ahead.get(session) === key) return;
  ahead.set(session, key);
  while (ahead.get(session) === key && keyOf() === key) {
    const answer = await takeTurns(engine, session, null, 'ahead');
    if (!answer.ok || answer.value.kind !== 'under way') return;
  }
}
