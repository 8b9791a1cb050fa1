import { useId, useRef, useState } from 'react';
import type { FitSubject } from '../../../shared-core/contract/calls.ts';
import { alsoSoldAs } from '../../../shared-core/faults/fit-notes.ts';
import type { FitReport } from '../../../shared-core/faults/fit-report.ts';
import type { Kit, ValvePart } from '../../../shared-core/kit/kit.ts';
import type { KitProblem } from '../../../shared-core/problem/problem.ts';
import { findValveType, typesForBase } from '../../../shared-core/valves/index.ts';
import { useLink } from '../../bridge/link-context.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { ProblemList } from '../../components/problem-list.tsx';
import { FitAnswer } from './fit-answer.tsx';

interface ValveFitProps {
  /** The kit's sockets, one for each. */
  readonly sockets: readonly ValvePart[];
  /** Types that the kit brings itself. */
  readonly own: Kit['valves'];
  readonly subject: FitSubject;
  readonly isHidden: (reading: string) => boolean;
}

type Asked =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'waiting' }
  | { readonly kind: 'answer'; readonly report: FitReport }
  | { readonly kind: 'problem'; readonly problems: readonly KitProblem[] };

/** Types in hand, socket by socket, and what they would do. Nothing is written, whatever the answer. */
export function ValveFit({ sockets, own, subject, isHidden }: ValveFitProps) {
  const { call, say } = useLink();
  const [types, setTypes] = useState<Readonly<Record<string, string>>>({});
  const [asked, setAsked] = useState<Asked>({ kind: 'nothing' });
  const question = useRef(0);
  const valves = Object.fromEntries(
    Object.entries(types)
      .map(([socket, type]) => [socket, type.trim()] as const)
      .filter(([, type]) => type !== ''),
  );
  const isEmpty = Object.keys(valves).length === 0;
  const isWaiting = asked.kind === 'waiting';
  const ask = async (): Promise<void> => {
    if (isEmpty || isWaiting) return;
    setAsked({ kind: 'waiting' });
    const number = question.current;
    const answer = await call('fit.valves', { subject, valves });
    if (number !== question.current) return;
    if (answer === null) return setAsked({ kind: 'nothing' });
    if (!answer.ok) return setAsked({ kind: 'problem', problems: answer.problems });
    setAsked({ kind: 'answer', report: answer.value });
    say(answer.value.words);
  };
  return (
    <>
      <form
        className="form-part"
        aria-label="Valves in hand"
        onSubmit={(event) => {
          event.preventDefault();
          void ask();
        }}
      >
        <div className="fields">
          {sockets.map((part) => (
            <SocketField
              key={part.id}
              part={part}
              own={own}
              value={types[part.id] ?? ''}
              onChange={(type) => {
                setTypes({ ...types, [part.id]: type });
                // An answer never stands beside another question.
                question.current += 1;
                setAsked({ kind: 'nothing' });
              }}
            />
          ))}
        </div>
        <ActButton look="move" blocked={isEmpty || isWaiting} onAct={() => void ask()}>
          See what they would do
        </ActButton>
        <input type="submit" hidden />
      </form>
      {isWaiting ? <output className="large">One moment: every reading is being computed.</output> : null}
      {asked.kind === 'problem' ? (
        <div role="alert">
          <ProblemList problems={asked.problems} />
        </div>
      ) : null}
      {asked.kind === 'answer' ? <FitAnswer report={asked.report} isHidden={isHidden} /> : null}
    </>
  );
}

interface SocketFieldProps {
  readonly part: ValvePart;
  readonly own: Kit['valves'];
  readonly value: string;
  readonly onChange: (type: string) => void;
}

function SocketField({ part, own, value, onChange }: SocketFieldProps) {
  const list = useId();
  const type = findValveType(part.type, own);
  const sold = type ? alsoSoldAs(type) : null;
  return (
    <>
      <Field
        label={`${part.id}, ${part.title}`}
        list={list}
        value={value}
        onChange={onChange}
        hint={`The kit has ${part.type}${sold === null ? '' : `, ${sold}`}. Empty: as in the kit.`}
      />
      <datalist id={list}>
        {typesForBase(part.socket.base, own).map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </datalist>
    </>
  );
}
