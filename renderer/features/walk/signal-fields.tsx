import { useState } from 'react';
import type { Ref } from 'react';
import { formatNumber } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import { Field } from '../../components/field.tsx';

interface SignalFieldsProps {
  readonly ref: Ref<HTMLInputElement>;
  /** Receives output over input, to four figures; empty until both are there. */
  readonly onRatio: (text: string) => void;
}

/** Input and output volts of a signal test; their ratio is the gain. */
export function SignalFields({ ref, onRatio }: SignalFieldsProps) {
  const [given, setGiven] = useState({ input: '', output: '' });
  const input = readQuantity(given.input, 'V');
  const output = readQuantity(given.output, 'V');
  const change = (next: typeof given): void => {
    setGiven(next);
    onRatio(ratioOf(next.input, next.output));
  };
  const ratio = ratioOf(given.input, given.output);
  return (
    <div className="signal">
      <Field
        ref={ref}
        label="Input, AC"
        numeric
        unit="V"
        value={given.input}
        onChange={(text) => change({ ...given, input: text })}
        error={given.input !== '' && !input.ok ? input.hint : null}
      />
      <Field
        label="Output, AC"
        numeric
        unit="V"
        value={given.output}
        onChange={(text) => change({ ...given, output: text })}
        error={given.output !== '' && !output.ok ? output.hint : null}
        echo={ratio === '' ? null : `gain ${ratio}`}
      />
    </div>
  );
}

/** Output over input, as text for the entry. */
export function ratioOf(inputText: string, outputText: string): string {
  const [input, output] = [readQuantity(inputText, 'V'), readQuantity(outputText, 'V')];
  if (!input.ok || !output.ok || !(input.value > 0)) return '';
  return formatNumber(output.value / input.value);
}
