import { useState } from 'react';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { InspectList } from './inspect-list.tsx';
import { MoveOn } from './move-on.tsx';
import type { StepPageProps } from './step-props.ts';

/** The end: read through the report, and sign it. */
export function SignBody(props: StepPageProps) {
  const { build, onPage } = props;
  const [name, setName] = useState('');
  const { signature } = build.build;
  return (
    <div className="step-main">
      <ActButton look="plain" onAct={() => onPage('report')}>
        Read the report
      </ActButton>
      <InspectList {...props} />
      {signature === null ? (
        <Field
          label="Signed by"
          value={name}
          onChange={setName}
          hint="Initials or a name, as you like. It is printed in the report."
        />
      ) : (
        <p>Signed by {signature.name}.</p>
      )}
      {signature === null && name.trim() === '' ? null : (
        <MoveOn
          {...props}
          words="Sign"
          before={(by) =>
            signature === null ? build.act({ kind: 'signed', name: name.trim(), by }) : Promise.resolve(true)
          }
        />
      )}
    </div>
  );
}
