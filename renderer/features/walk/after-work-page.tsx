import { isPassedOrAccepted, lampStageOf } from '../../../shared-core/safety/lookup.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Heading } from '../../components/heading.tsx';
import { PlugIn } from './plug-in.tsx';
import { ReadingStation } from './reading-station.tsx';
import type { StepPageProps } from './step-props.ts';

/** After work inside: look over, the cold readings again, then the lamp stage. */
export function AfterWorkPage(props: StepPageProps) {
  const { build, step } = props;
  const { afterWork } = build.safety;
  if (afterWork === null) return null;
  const open = afterWork.readings.filter((id) => !isPassedOrAccepted(id, build.safety));
  const lamp = lampStageOf(build.facts);
  const plain = { ...step, inspect: [], picture: null };
  const title = build.facts.conditions.find(({ id }) => id === lamp)?.title ?? 'the lamp stage';
  return (
    <article className="step">
      <header className="step-head">
        <p className="step-place">
          <span>after work inside</span>
          <span className="figures">
            {afterWork.readings.length - open.length} / {afterWork.readings.length} read again
          </span>
        </p>
        <Heading of="after work">
          {!afterWork.lookedOver ? 'Look it over' : open.length > 0 ? 'Read again, cold' : title}
        </Heading>
        <p className="large">
          {!afterWork.lookedOver
            ? 'Look for solder splashes, cut-offs, clearances and tools left inside.'
            : open.length > 0
              ? 'The plug is out. Take the cold readings of what was touched again.'
              : 'After work inside the lamp stage comes first, with its readings.'}
        </p>
      </header>
      {!afterWork.lookedOver ? (
        <div className="step-main">
          <ActButton
            look="move"
            hotkey="Enter"
            blocked={!build.known}
            onAct={(by) => void build.act({ kind: 'looked-over', by })}
          >
            Looked over: nothing left inside
          </ActButton>
        </div>
      ) : open.length > 0 ? (
        <ReadingStation {...props} step={plain} readings={afterWork.readings} />
      ) : lamp === null ? null : (
        <PlugIn {...props} step={plain} condition={lamp} isRepeat />
      )}
    </article>
  );
}
