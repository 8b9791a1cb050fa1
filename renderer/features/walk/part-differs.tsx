import { useId, useState } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import type { Pressed } from '../../components/keys.ts';

interface PartDiffersProps {
  readonly build: Build;
  readonly ids: readonly string[];
}

/** A part of the step that is not there, or something else in its place: written down and printed. */
export function PartDiffers({ build, ids }: PartDiffersProps) {
  const field = useId();
  const [part, setPart] = useState(ids[0] ?? '');
  const [how, setHow] = useState<'missing' | 'fitted instead'>('missing');
  const [what, setWhat] = useState('');
  const known = ids.flatMap((id) => {
    const differing = build.build.differing[id];
    return differing === undefined
      ? []
      : [`${id} ${differing.how}${differing.what === '' ? '' : `: ${differing.what}`}`];
  });
  if (ids.length === 0) return null;
  const keep = async (by: Pressed): Promise<void> => {
    if (await build.act({ kind: 'part-differs', part, how, what: what.trim(), by })) setWhat('');
  };
  return (
    <details>
      <summary>Something is missing or different{known.length === 0 ? '' : ` (${known.join('; ')})`}</summary>
      <div className="form-part">
        <div className="fields">
          <div className="field">
            <label htmlFor={field}>Part</label>
            <select id={field} value={part} onChange={(event) => setPart(event.target.value)}>
              {ids.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </div>
          <Choice
            label="How"
            value={how}
            options={['missing', 'fitted instead'] as const}
            onChange={setHow}
          />
          <Field label="What" value={what} onChange={setWhat} />
        </div>
        <ActButton
          blocked={!build.known || (how === 'fitted instead' && what.trim() === '')}
          onAct={(by) => void keep(by)}
        >
          Write it down
        </ActButton>
      </div>
    </details>
  );
}
