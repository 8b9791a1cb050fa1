import { useState } from 'react';
import type { OpenedKit } from '../../../shared-core/contract/calls.ts';
import type { Choices } from '../../../shared-core/kit/kit.ts';
import type { StartedFrom } from '../../../shared-core/safety/energy-state.ts';
import { useShown } from '../../bridge/link-context.ts';
import { ActButton } from '../../components/act-button.tsx';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { Choice } from '../../components/choice.tsx';
import { Heading } from '../../components/heading.tsx';
import { KitValves } from './kit-valves.tsx';

interface StartScreenProps {
  readonly opened: OpenedKit;
  readonly onStart: (choices: Choices, from: StartedFrom) => void;
  readonly onPractice: (choices: Choices) => void;
  readonly onFit: () => void;
  readonly onBack: () => void;
}

/** A kit before its build begins: options, and whether it is loose parts or assembled already. */
export function StartScreen({ opened, onStart, onPractice, onFit, onBack }: StartScreenProps) {
  const { kit, hash } = opened;
  const [choices, setChoices] = useState<Choices>(() =>
    Object.fromEntries(kit.options.map(({ id, choices: all }) => [id, all[0] ?? ''])),
  );
  const [from, setFrom] = useState<StartedFrom>('loose parts');
  const isBusy = useBusy();
  const steps = kit.chapters.reduce((sum, chapter) => sum + chapter.steps.length, 0);
  return (
    <main className="page">
      <p className="step-place">
        <span>{kit.maker}</span>
        <span>revision {kit.revision}</span>
        <span className="figures">{hash.slice(0, 12)}</span>
      </p>
      <Heading of={`start ${opened.path}`}>{kit.name}</Heading>
      <p className="large">{kit.about}</p>
      <p className="quiet">
        {kit.chapters.length} chapters, {steps} steps, {kit.readings.length} readings.
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
        <Choice
          label="What is on the bench"
          value={from}
          options={['loose parts', 'assembled'] as const}
          words={{
            'loose parts': 'loose parts, never plugged in',
            assembled: 'an amplifier that is assembled already',
          }}
          onChange={setFrom}
        />
      </section>
      <KitValves kit={kit} choices={choices} onFit={onFit} />
      {from === 'assembled' ? (
        <CautionPanel level="warning">
          Nothing is known about the charge inside. It starts as draining: the plug is asked for, every store
          is measured, and the cold checks are done. Gathering and assembling are recorded as declared, not
          witnessed.
        </CautionPanel>
      ) : null}
      <div className="step-foot">
        <ActButton
          look="move"
          hotkey="Enter"
          blocked={isBusy.now}
          onAct={() => {
            isBusy.begin();
            onStart(choices, from);
          }}
        >
          Begin this build
        </ActButton>
        <ActButton
          blocked={isBusy.now}
          onAct={() => {
            isBusy.begin();
            onPractice(choices);
          }}
        >
          Practice power-up
        </ActButton>
        <ActButton look="quiet" onAct={onBack}>
          Back to the shelf
        </ActButton>
      </div>
      {isBusy.now ? (
        <output className="large">
          One moment: what this kit should read, and how it drains, is being computed.
        </output>
      ) : null}
    </main>
  );
}

/** From the press until the build is there, or cannot be: what is told anew ends it. */
function useBusy(): { readonly now: boolean; readonly begin: () => void } {
  const problems = useShown((state) => state.problems);
  const [since, setSince] = useState<typeof problems | null>(null);
  return { now: since === problems, begin: () => setSince(problems) };
}
