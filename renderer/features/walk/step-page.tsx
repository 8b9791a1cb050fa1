import { useEffect, useRef } from 'react';
import type { Step } from '../../../shared-core/kit/kit.ts';
import type { Build } from '../../bridge/use-build.ts';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { Heading } from '../../components/heading.tsx';
import { StepBody } from './step-body.tsx';
import type { StepPageProps } from './step-props.ts';
import { stepPlace } from './walk-mode.ts';

/** One step: what to do, where, with what, the answer. */
export function StepPage(props: StepPageProps) {
  const { build, step } = props;
  useStepStarted(build, step);
  return (
    <article className="step">
      <StepHead build={build} step={step} />
      <StepBody key={step.id} {...props} />
    </article>
  );
}

function StepHead({ build, step }: { readonly build: Build; readonly step: Step }) {
  const place = stepPlace(build.kit.chapters, step.id);
  return (
    <header className="step-head">
      <p className="step-place">
        <span className="figures">
          {place.number} / {place.of}
        </span>
        <span>{place.chapter}</span>
        {step.goodPlaceToStop ? <span>a good place to stop afterwards</span> : null}
      </p>
      <Heading of={step.id}>{step.title}</Heading>
      <p className="large">{step.do}</p>
      {step.more === null ? null : (
        <details className="more">
          <summary>Why, and what to watch for</summary>
          <p>{step.more}</p>
        </details>
      )}
      {step.cautions.map(({ level, text }) => (
        <CautionPanel key={text} level={level}>
          {text}
        </CautionPanel>
      ))}
    </header>
  );
}

/** Notes once that the step to do now is on the screen, so that its time is known. */
function useStepStarted(build: Build, step: Step): void {
  const sent = useRef<string | null>(null);
  const { act, known, currentStep, steps, refusalsOf } = { ...build, steps: build.build.steps };
  const status = steps[step.id]?.status;
  const isDue = known && currentStep === step.id && (status === undefined || status === 'reopened');
  const isAllowed = isDue && refusalsOf({ kind: 'step-started', step: step.id, by: 'hand' }).length === 0;
  useEffect(() => {
    if (!isAllowed || sent.current === step.id) return;
    sent.current = step.id;
    void act({ kind: 'step-started', step: step.id, by: 'hand' });
  }, [isAllowed, step.id, act]);
}
