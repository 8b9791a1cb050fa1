import { useEffect, useRef, useState } from 'react';
import { EntryForm } from '../../components/entry-form.tsx';
import { Field } from '../../components/field.tsx';
import type { Pressed } from '../../components/keys.ts';
import { readTyped } from '../../components/measure-words.ts';

interface VoltsFormProps {
  readonly label: string;
  readonly blocked: boolean;
  readonly onVolts: (volts: number, by: Pressed) => Promise<boolean>;
}

/** One figure in volts, entered with ⏎. */
export function VoltsForm({ label, blocked, onVolts }: VoltsFormProps) {
  const [text, setText] = useState('');
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus({ preventScroll: true }), []);
  const typed = readTyped(text, 'V');
  const isVolts = typed.entry?.kind === 'value';
  const error = typed.entry?.kind === 'overload' ? 'OL proves nothing: choose a higher range.' : typed.error;
  const enter = (by: Pressed): void => {
    if (typed.entry?.kind !== 'value' || blocked) return;
    void onVolts(typed.entry.value, by).then((isDone) => (isDone ? setText('') : undefined));
  };
  return (
    <EntryForm onEnter={enter} isReady={isVolts && !blocked}>
      <Field
        ref={field}
        label={label}
        size="reading"
        numeric
        unit="V"
        value={text}
        onChange={setText}
        echo={isVolts ? typed.echo : null}
        error={error}
      />
    </EntryForm>
  );
}
