import { useId, useState } from 'react';
import type { SocketedValve } from '../../shared-core/journal/build-state.ts';
import { ActButton } from './act-button.tsx';
import { Choice } from './choice.tsx';
import { Field } from './field.tsx';
import type { Pressed } from './keys.ts';

interface ValveFormProps {
  readonly socket: string;
  readonly title: string;
  /** The kit's type, offered first. */
  readonly type: string;
  /** Types that the catalogue knows. */
  readonly known: readonly string[];
  readonly blocked: boolean;
  readonly onFit: (valve: SocketedValve, by: Pressed) => void;
}

const stocks = ['new', 'old stock', 'used', 'not known'] as const;

/** Which valve really goes into a socket. */
export function ValveForm({ socket, title, type, known, blocked, onFit }: ValveFormProps) {
  const [valve, setValve] = useState<SocketedValve>({
    type,
    brand: '',
    dateCode: '',
    stock: 'not known',
    label: '',
  });
  const list = useId();
  const change = (part: Partial<SocketedValve>): void => setValve({ ...valve, ...part });
  return (
    <section className="valve-form" aria-label={`Valve for ${socket}`}>
      <h2>
        {socket}: {title}
      </h2>
      <div className="fields">
        <Field
          label="Type on the glass"
          list={list}
          value={valve.type}
          onChange={(text) => change({ type: text })}
        />
        <Field label="Brand" value={valve.brand} onChange={(brand) => change({ brand })} />
        <Field label="Date code" value={valve.dateCode} onChange={(dateCode) => change({ dateCode })} />
      </div>
      <datalist id={list}>
        {known.map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </datalist>
      <Choice label="Stock" value={valve.stock} options={stocks} onChange={(stock) => change({ stock })} />
      <ActButton look="plain" blocked={blocked || valve.type.trim() === ''} onAct={(by) => onFit(valve, by)}>
        {valve.type} is in {socket}
      </ActButton>
    </section>
  );
}
