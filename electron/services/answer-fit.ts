import type { FitSubject } from '../../shared-core/contract/calls.ts';
import { fittedBeside } from '../../shared-core/faults/fit-asked.ts';
import type { FitReport } from '../../shared-core/faults/fit-report.ts';
import { placedSockets } from '../../shared-core/faults/fit-valves.ts';
import { liveConditions } from '../../shared-core/faults/fit-volts.ts';
import { canonicalJson } from '../../shared-core/journal/canonical-json.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { asInKit, nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import type { ConditionPrediction } from '../../shared-core/prediction/prediction.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { sha256 } from '../files/sha256.ts';
import { basisKey, basisOf, conditionKey } from './facts-source.ts';
import type { Basis } from './facts-source.ts';
import { openKit } from './open-kit.ts';
import type { ServiceContext } from './service-context.ts';

/** Answers what other valves would do; nothing is written, and no state of any build depends on it. */
export async function answerFit(
  { engine, shelf }: Pick<ServiceContext, 'engine' | 'shelf'>,
  subject: FitSubject,
  valves: Readonly<Record<string, string>>,
): Promise<Result<FitReport>> {
  const found = await findSubject(shelf, subject);
  if (!found.ok) return found;
  const { chosen, hash, slot } = found.value;
  const basis: Basis = { ...found.value.basis, fitted: fittedBeside(found.value.basis.fitted, valves) };
  const key = basisKey(hash, chosen, basis);
  const before: ConditionPrediction[] = [];
  const placed = placedSockets(chosen, valves);
  for (const { id } of placed.length === 0 ? [] : liveConditions(chosen, placed)) {
    // What the build was told to expect is at hand already, unless a socket asked about holds another type.
    const needs = { chosen, condition: id, ...basis };
    const made = await engine.run('condition', needs, {
      key: conditionKey(id, key),
      slot: `fit ${slot}\n${id}`,
    });
    if (!made.ok) return made;
    if (made.value) before.push(made.value);
  }
  const asked = sha256(`${key}\n${canonicalJson(valves) ?? ''}`);
  const answer = await engine.run(
    'fit',
    { chosen, ...basis, valves, before },
    { key: asked, slot: `fit ${slot}` },
  );
  return answer.ok ? answer.value : answer;
}

interface Subject {
  readonly chosen: ChosenKit;
  readonly hash: string;
  readonly basis: Basis;
  readonly slot: string;
}

async function findSubject(shelf: ServiceContext['shelf'], subject: FitSubject): Promise<Result<Subject>> {
  if (subject.kind === 'build') {
    const session = await shelf.session(subject.build);
    if (!session.ok) return session;
    const { kit: chosen, build } = session.value.view();
    const basis = basisOf(chosen, build);
    return succeed({ chosen, hash: build.kitHash, basis, slot: subject.build });
  }
  const kit = await openKit(subject.path);
  if (!kit.ok) return kit;
  const chosen = chooseKit(kit.value.kit, subject.choices);
  if (!chosen.ok) return chosen;
  const basis = { bench: nominalBench(chosen.value), fitted: asInKit };
  return succeed({ chosen: chosen.value, hash: kit.value.folder.hash, basis, slot: subject.path });
}
