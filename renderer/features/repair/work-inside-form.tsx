import { useState } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { RefusalList } from '../../components/refusal-list.tsx';

/** The places in a text, as far as the kit knows them; the others by themselves. */
export function readPlaces(
  text: string,
  netOf: Readonly<Record<string, string>>,
): { readonly places: readonly string[]; readonly unknown: readonly string[] } {
  const named = text.split(/[\s,;]+/).filter((each) => each !== '');
  return {
    places: named.filter((each) => netOf[each] !== undefined),
    unknown: named.filter((each) => netOf[each] === undefined),
  };
}

/** Work inside outside a step: what, where, whether on the mains side, whether soldered. */
export function WorkInsideForm({ build, onDone }: { readonly build: Build; readonly onDone: () => void }) {
  const [what, setWhat] = useState('');
  const [where, setWhere] = useState('');
  const [mainsSide, setMainsSide] = useState(false);
  const [soldering, setSoldering] = useState(true);
  const { places, unknown } = readPlaces(where, build.kit.netOf);
  const event = { kind: 'work-inside', what: what.trim(), places, mainsSide, soldering, by: 'hand' } as const;
  const refused = build.refusalsOf(event);
  return (
    <div className="form-part">
      <Field label="What was done" size="long" value={what} onChange={setWhat} />
      <Field
        label="Places touched"
        size="long"
        value={where}
        onChange={setWhere}
        error={
          unknown.length === 0
            ? null
            : `The kit has no place ${unknown.join(', ')}. Write them as TS1.3 or V2.7.`
        }
        hint="As TS1.3, V2.7. Empty: it cannot be said which, and everything is read again."
      />
      <Tick checked={mainsSide} onChange={setMainsSide}>
        on the mains side
      </Tick>
      <Tick checked={soldering} onChange={setSoldering}>
        something was soldered
      </Tick>
      <RefusalList refusals={refused} />
      <ActButton
        blocked={what.trim() === '' || unknown.length > 0 || refused.length > 0 || !build.known}
        onAct={(by) => void build.act({ ...event, by }).then((isDone) => (isDone ? onDone() : undefined))}
      >
        Write the work down
      </ActButton>
    </div>
  );
}
