import { useId } from 'react';

interface ChoiceProps<Value extends string> {
  readonly label: string;
  readonly value: Value | null;
  readonly options: readonly Value[];
  readonly onChange: (value: Value) => void;
  readonly words?: Readonly<Partial<Record<Value, string>>>;
}

/** A few options of which one is chosen, all of them in sight. */
export function Choice<Value extends string>(props: ChoiceProps<Value>) {
  const { label, value, options, onChange, words = {} } = props;
  const name = useId();
  return (
    <fieldset className="choice">
      <legend>{label}</legend>
      {options.map((option) => (
        <label key={option}>
          <input
            type="radio"
            name={name}
            value={option}
            checked={option === value}
            onChange={() => onChange(option)}
          />
          <span>{(words as Readonly<Record<string, string | undefined>>)[option] ?? option}</span>
        </label>
      ))}
    </fieldset>
  );
}

interface TickProps {
  readonly children: React.ReactNode;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
  readonly disabled?: boolean;
}

/** One thing to tick. */
export function Tick({ children, checked, onChange, disabled = false }: TickProps) {
  return (
    <label className="tick">
      <input
        type="checkbox"
        checked={checked}
        disabled={disabled}
        onChange={(event) => onChange(event.target.checked)}
      />
      <span>{children}</span>
    </label>
  );
}
