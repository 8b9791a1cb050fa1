import { useId } from 'react';
import type { InputHTMLAttributes, ReactNode, Ref } from 'react';

interface FieldProps {
  readonly label: ReactNode;
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** What was understood, in words. */
  readonly echo?: string | null;
  readonly error?: string | null;
  readonly hint?: ReactNode;
  readonly unit?: string;
  readonly numeric?: boolean;
  readonly size?: 'short' | 'long' | 'reading';
  readonly list?: string;
  readonly ref?: Ref<HTMLInputElement>;
  readonly onFocus?: InputHTMLAttributes<HTMLInputElement>['onFocus'];
}

/** A text field with its label; what is wrong with it, and what it understood, are tied to it. */
export function Field({ ref, list, onFocus, ...props }: FieldProps) {
  const { label, value, onChange, echo, error, hint, unit, numeric = false, size = 'short' } = props;
  const id = useId();
  const told = error ?? echo ?? null;
  const notes = [told === null ? '' : `${id}-told`, hint === undefined ? '' : `${id}-hint`];
  return (
    <div className={`field field-${size}`}>
      <label htmlFor={id}>{label}</label>
      <span className="field-row">
        <input
          id={id}
          ref={ref}
          type="text"
          autoComplete="off"
          spellCheck={false}
          inputMode={numeric ? 'decimal' : undefined}
          list={list}
          value={value}
          aria-invalid={error == null ? undefined : true}
          aria-describedby={notes.join(' ').trim() || undefined}
          onFocus={onFocus}
          onChange={(event) => onChange(event.target.value)}
        />
        {unit === undefined ? null : <span className="field-unit">{unit}</span>}
      </span>
      {told === null ? null : (
        <span id={`${id}-told`} className={error == null ? 'field-echo' : 'field-error'}>
          {told}
        </span>
      )}
      {hint === undefined ? null : (
        <span id={`${id}-hint`} className="field-hint">
          {hint}
        </span>
      )}
    </div>
  );
}
