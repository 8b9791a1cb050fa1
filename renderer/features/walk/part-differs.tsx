import { useId, useState } from 'react';
import type { Part } from '../../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import type { Pressed } from '../../components/keys.ts';
import { unitOfPart } from '../../components/part-words.ts';

interface PartDiffersProps {
  readonly build: Build;
  readonly ids: readonly string[];
}

/**
 * A part of the step that is not there, or something else in its place: written down and printed.
 *
 * The measured value of what is fitted instead goes into every later prediction.
 */
export function PartDiffers({ build, ids }: PartDiffersProps) {
  const field = useId();
  const [id, setId] = useState(ids[0] ?? '');
  const [how, setHow] = useState<'missing' | 'fitted instead'>('missing');
  const [what, setWhat] = useState('');
  const [value, setValue] = useState('');
  const known = ids.flatMap((each) => knownWords(build, each));
  const part = build.kit.parts.find((each) => each.id === id);
  if (ids.length === 0 || part === undefined) return null;
  const isOther = how === 'fitted instead';
  const unit = isOther ? unitOfPart(part) : null;
  const read = unit === null || value.trim() === '' ? null : readQuantity(value, unit);
  const keep = async (by: Pressed): Promise<void> => {
    if (!(await build.act({ kind: 'part-differs', part: id, how, what: what.trim(), by }))) return;
    setWhat('');
    if (read?.ok !== true) return;
    await build.act({ kind: 'part-measured', part: id, value: read.value, typed: value, by });
    setValue('');
  };
  return (
    <details>
      <summary>Something is missing or different{known.length === 0 ? '' : ` (${known.join('; ')})`}</summary>
      <div className="form-part">
        <div className="fields">
          <div className="field">
            <label htmlFor={field}>Part</label>
            <select id={field} value={id} onChange={(event) => setId(event.target.value)}>
              {ids.map((each) => (
                <option key={each} value={each}>
                  {each}
                </option>
              ))}
            </select>
          </div>
          <Choice
            label="How"
            value={how}
            options={['missing', 'fitted instead'] as const}
            words={{ missing: 'missing or damaged' }}
            onChange={setHow}
          />
          <Field label="What" value={what} onChange={setWhat} />
          {unit === null ? null : (
            <Field
              label="Its measured value"
              numeric
              unit={unit}
              value={value}
              onChange={setValue}
              echo={read?.ok === true ? formatQuantity(read.value, unit) : null}
              error={read?.ok === false ? read.hint : null}
            />
          )}
        </div>
        {isOther ? <p className="quiet">{basisWords(part)}</p> : null}
        <ActButton
          blocked={!build.known || (isOther && what.trim() === '') || read?.ok === false}
          onAct={(by) => void keep(by)}
        >
          Write it down
        </ActButton>
      </div>
    </details>
  );
}

/** What was recorded of a part: different, or measured. */
function knownWords({ build, kit }: Build, id: string): readonly string[] {
  const differing = build.differing[id];
  const part = kit.parts.find((each) => each.id === id);
  const unit = part === undefined ? null : unitOfPart(part);
  const measured = build.fitted.measured[id];
  const value = measured === undefined || unit === null ? '' : `, ${formatQuantity(measured, unit)}`;
  if (differing === undefined) return [];
  return [`${id} ${differing.how}${differing.what === '' ? '' : `: ${differing.what}`}${value}`];
}

/** Whether predictions follow. */
function basisWords(part: Part): string {
  if (part.kind === 'valve') {
    return 'Which valve is in the socket, its brand and its date code are said at the step that puts it in; predictions go by its type.';
  }
  return unitOfPart(part) === null
    ? 'It is written down and printed; predictions go by the kit’s own.'
    : 'Predictions go by the measured value from now on; without one, by the kit’s own.';
}
