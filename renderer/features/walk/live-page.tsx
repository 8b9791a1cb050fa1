import { isPassedOrAccepted } from '../../../shared-core/safety/lookup.ts';
import { Heading } from '../../components/heading.tsx';
import { plugWords } from './condition-words.ts';
import { ReadingStation } from './reading-station.tsx';
import type { StepPageProps } from './step-props.ts';
import { WarmUp } from './warm-up.tsx';

/** Live in a condition that no step on the screen belongs to: the lamp stage repeated, or an older step. */
export function LivePage(props: StepPageProps & { readonly condition: string }) {
  const { build, condition } = props;
  const facts = build.facts.conditions.find(({ id }) => id === condition);
  const title = facts?.title ?? condition;
  const readings = build.facts.readings.filter((each) => each.in === condition).map(({ id }) => id);
  const isRead = readings.every((id) => isPassedOrAccepted(id, build.safety));
  return (
    <article className="step">
      <header className="step-head">
        <p className="step-place">
          <span>live</span>
        </p>
        <Heading of={`live ${condition}`}>{title}</Heading>
        <p className="large">
          {isRead
            ? 'All readings of this stage are taken. Put the switch to off and pull the plug: F9.'
            : `${plugWords(facts?.supply ?? 'mains')} Then take the readings of this stage.`}
        </p>
        <WarmUp build={build} />
      </header>
      {isRead ? null : (
        <ReadingStation {...props} step={{ ...props.step, inspect: [], picture: null }} readings={readings} />
      )}
    </article>
  );
}
