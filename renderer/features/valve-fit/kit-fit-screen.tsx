import { useState } from 'react';
import type { OpenedKit } from '../../../shared-core/contract/calls.ts';
import { defaultChoices, isFor } from '../../../shared-core/kit/choose-kit.ts';
import type { ValvePart } from '../../../shared-core/kit/kit.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Heading } from '../../components/heading.tsx';
import { ValveFit } from './valve-fit.tsx';

interface KitFitScreenProps {
  readonly opened: OpenedKit;
  readonly onBack: () => void;
}

/** Another valve for a kit as its file says, on nominal mains. */
export function KitFitScreen({ opened, onBack }: KitFitScreenProps) {
  const { kit, path } = opened;
  const [choices, setChoices] = useState(() => defaultChoices(kit));
  const sockets = kit.parts.filter(
    (part): part is ValvePart => part.kind === 'valve' && isFor(part.when, choices),
  );
  return (
    <main className="page">
      <p className="step-place">
        <span>{kit.maker}</span>
        <span>
          {kit.name}, revision {kit.revision}
        </span>
      </p>
      <Heading of={`fit ${path}`}>Another valve for {kit.name}</Heading>
      <p>
        Type what is printed on the glass of the valve in hand. Its pins are held against the wiring, its
        heater against the winding, and every reading is computed anew, on nominal mains.
      </p>
      <section className="form-part" aria-label="Options">
        {kit.options.map(({ id, title, choices: all }) => (
          <Choice
            key={id}
            label={title}
            value={choices[id] ?? ''}
            options={all}
            onChange={(choice) => setChoices({ ...choices, [id]: choice })}
          />
        ))}
      </section>
      <ValveFit
        key={JSON.stringify(choices)}
        sockets={sockets}
        own={kit.valves}
        subject={{ kind: 'kit', path, choices }}
        isHidden={() => false}
      />
      <div className="step-foot">
        <ActButton look="quiet" onAct={onBack}>
          Back to {kit.name}
        </ActButton>
      </div>
    </main>
  );
}
