import { useState } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { RefusalList } from '../../components/refusal-list.tsx';
import { PlacesField, readPlaces } from './places-field.tsx';

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
      <PlacesField label="Places touched" value={where} unknown={unknown} onChange={setWhere} />
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
