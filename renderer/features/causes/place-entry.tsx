import { useState } from 'react';
import { measurableKit } from '../../../shared-core/faults/measurable.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { EntryForm } from '../../components/entry-form.tsx';
import { Field } from '../../components/field.tsx';
import { emptyHint, readTyped } from '../../components/measure-words.ts';
import { RefusalList } from '../../components/refusal-list.tsx';

interface PlaceEntryProps {
  readonly build: Build;
  /** A cold measurement that the kit has no reading for. */
  readonly reading: string;
  readonly onStores: () => void;
}

/**
 * Cold ohms where the kit asks for none: written into the journal as they are, under the rules of a cold reading.
 *
 * Nothing is judged by them; they help to tell causes apart.
 */
export function PlaceEntry({ build, reading, onStores }: PlaceEntryProps) {
  const [text, setText] = useState('');
  const typed = readTyped(text, 'Ω');
  const place = measurableKit(build.kit).readings.find(({ id }) => id === reading);
  const cold = new Set(
    build.kit.conditions.filter(({ supply }) => supply === 'unplugged').map(({ id }) => id),
  );
  // The rules for ohms anywhere: those of the kit's first cold one.
  const like = build.kit.readings.find(({ measure, in: at }) => measure === 'ohms' && cold.has(at));
  const refused = build.refusalsOf({
    ...{ kind: 'reading-entered', reading: like?.id ?? '', typed: text, verdict: 'not predicted' },
    entry: typed.entry ?? { kind: 'value', value: 0 },
    ...{ band: null, bandShownBefore: false, corrects: null, by: 'hand' },
  });
  const isOpen = refused.length === 0 && build.known && build.safety.energy.kind === 'dead';
  if (place === undefined || place.measure !== 'ohms') return null;
  const { at, against } = place;
  return (
    <>
      <RefusalList
        refusals={refused}
        most={2}
        help={({ code }) =>
          code === 'safety/ohms-volts' ? (
            <ActButton look="quiet" onAct={onStores}>
              Measure the stores
            </ActButton>
          ) : null
        }
      />
      <EntryForm
        isReady={isOpen && typed.entry !== null}
        onEnter={(by) => {
          if (typed.entry === null || !isOpen) return;
          const entered = { reading, at, against, entry: typed.entry, typed: text, by };
          void build
            .act({ kind: 'place-measured', ...entered })
            .then((isDone) => (isDone ? setText('') : undefined));
        }}
      >
        <Field
          label={`Ohms, ${at} to ${against}`}
          size="reading"
          numeric
          unit="Ω"
          value={text}
          onChange={setText}
          echo={typed.echo}
          error={typed.error}
          hint={emptyHint('Ω')}
        />
      </EntryForm>
    </>
  );
}
