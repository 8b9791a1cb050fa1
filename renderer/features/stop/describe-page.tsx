import { useState } from 'react';
import { wrongSigns } from '../../../shared-core/safety/events.ts';
import type { WrongSign } from '../../../shared-core/safety/events.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { Heading } from '../../components/heading.tsx';

/** The plug is out: what was it? */
export function DescribePage({ build }: { readonly build: Build }) {
  const [signs, setSigns] = useState<readonly WrongSign[]>([]);
  const [what, setWhat] = useState('');
  return (
    <article className="step">
      <header className="step-head">
        <p className="step-place">
          <span>the plug is out</span>
        </p>
        <Heading of="describe">What did you notice?</Heading>
        <p className="large">Tick all that fits. It is evidence for finding the fault.</p>
      </header>
      <div className="step-main">
        <fieldset className="inspect">
          <legend>Signs</legend>
          {wrongSigns.map((sign) => (
            <Tick
              key={sign}
              checked={signs.includes(sign)}
              onChange={(on) => setSigns(on ? [...signs, sign] : signs.filter((each) => each !== sign))}
            >
              {sign}
            </Tick>
          ))}
        </fieldset>
        <Field label="In your words" size="long" value={what} onChange={setWhat} />
        <div className="step-foot">
          <ActButton
            look="move"
            hotkey="Enter"
            blocked={signs.length === 0 || !build.known}
            why={signs.length === 0 ? 'Tick at least one.' : undefined}
            onAct={(by) => void build.act({ kind: 'wrong-described', signs, what, by })}
          >
            Write it down
          </ActButton>
        </div>
      </div>
    </article>
  );
}
