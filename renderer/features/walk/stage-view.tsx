import type { ConditionFacts } from '../../../shared-core/safety/facts.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import type { Build } from '../../bridge/use-build.ts';
import { stageWords } from './stage-words.ts';
import type { LookedAtValve } from './stage-words.ts';

/** Before the plug, and again while watching: what this stage does, and what means that the plug comes out. */
export function StageView({ build, facts }: { readonly build: Build; readonly facts: ConditionFacts }) {
  const words = stageWords(facts, valvesOf(build));
  if (words === null) return null;
  const bench = build.build.bench?.lampWatts ?? null;
  const isOtherLamp = facts.lampWatts !== null && bench !== null && bench !== facts.lampWatts;
  return (
    <section className="stage" aria-label="What will happen">
      <h2>What will happen</h2>
      <ul>
        {words.will.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
      {isOtherLamp ? (
        <p className="field-error">
          Your bench names a lamp of {bench} W; the kit asks for {facts.lampWatts} W.
        </p>
      ) : null}
      <p>
        <strong>Pull the plug at once:</strong> {words.wrong.join('; ')}.
      </p>
    </section>
  );
}

function valvesOf({ kit, build }: Build): readonly LookedAtValve[] {
  return kit.parts.flatMap((part): LookedAtValve[] => {
    if (part.kind !== 'valve') return [];
    const type = findValveType(build.valves[part.id]?.type ?? part.type, kit.valves);
    const is =
      type?.stabiliser !== undefined ? 'gas-filled' : type?.rectifier == null ? 'heated' : 'rectifier';
    return [{ socket: part.id, is }];
  });
}
