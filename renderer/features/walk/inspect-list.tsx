import { Tick } from '../../components/choice.tsx';
import type { StepPageProps } from './step-props.ts';

/** Things to look at, ticked one by one. */
export function InspectList({ build, step }: StepPageProps) {
  if (step.inspect.length === 0) return null;
  const ticked = build.safety.steps[step.id]?.ticked ?? [];
  return (
    <fieldset className="inspect">
      <legend>Look at</legend>
      {step.inspect.map((text, item) => (
        <Tick
          key={text}
          checked={ticked.includes(item)}
          disabled={!build.known}
          onChange={(on) =>
            void build.act({ kind: 'step-ticked', step: step.id, item, ticked: on, by: 'hand' })
          }
        >
          {text}
        </Tick>
      ))}
    </fieldset>
  );
}
