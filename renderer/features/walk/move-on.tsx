import { useFoot } from '../../bridge/use-foot.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { Pressed } from '../../components/keys.ts';
import { RefusalList } from '../../components/refusal-list.tsx';
import { RefusalHelp } from './refusal-help.tsx';
import type { StepPageProps } from './step-props.ts';

interface MoveOnProps extends StepPageProps {
  readonly words: string;
  /** Another event that has to be written first. */
  readonly before?: (by: Pressed) => Promise<boolean>;
}

/** The one control that goes on; what is still missing is said beside it. */
export function MoveOn(props: MoveOnProps) {
  const { build, step, words, before, onNext } = props;
  useFootOn(props);
  const isDone = ['done', 'declared'].includes(build.build.steps[step.id]?.status ?? '');
  if (isDone && build.currentStep !== step.id) {
    return (
      <div className="step-foot">
        <ActButton look="move" hotkey="Enter" onAct={onNext}>
          Done before. To the step to do now
        </ActButton>
      </div>
    );
  }
  const missing = build.refusalsOf({ kind: 'step-done', step: step.id, by: 'hand' });
  const others = missing.filter(({ code }) => code !== 'safety/step-not-finished');
  const unfinished = missing.length - others.length;
  const isBlocked = !build.known || (missing.length > 0 && before === undefined);
  const go = async (by: Pressed): Promise<void> => {
    if (before !== undefined && !(await before(by))) return;
    if (await build.act({ kind: 'step-done', step: step.id, by })) onNext();
  };
  return (
    <div className="step-foot">
      <ActButton
        look="move"
        hotkey="Enter"
        blocked={isBlocked}
        why={build.known ? undefined : 'The state is not known: wait for the host.'}
        onAct={(by) => void go(by)}
      >
        {words}
      </ActButton>
      {unfinished > 0 && before === undefined ? (
        <span className="quiet">
          {unfinished} {unfinished === 1 ? 'thing' : 'things'} to look at first
        </span>
      ) : null}
      {before === undefined ? (
        <RefusalList
          refusals={others}
          most={2}
          help={(refusal) => <RefusalHelp refusal={refusal} {...props} />}
        />
      ) : null}
    </div>
  );
}

/** A foot goes on from what was done before, and from what the rules let it: never with another event before. */
function useFootOn({ build, step, before, onNext }: MoveOnProps): void {
  const isDone = ['done', 'declared'].includes(build.build.steps[step.id]?.status ?? '');
  const isLookedAt = isDone && build.currentStep !== step.id;
  const event = { kind: 'step-done', step: step.id, by: 'foot' } as const;
  const isAllowed = before === undefined && build.known && build.refusalsOf(event).length === 0;
  useFoot(() => {
    if (isLookedAt) onNext();
    else void build.act(event).then((isWritten) => (isWritten ? onNext() : undefined));
  }, isLookedAt || isAllowed);
}
