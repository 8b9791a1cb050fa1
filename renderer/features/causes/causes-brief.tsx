import { asksForCause } from '../../../shared-core/journal/fault-evidence.ts';
import type { Build } from '../../bridge/use-build.ts';
import { useExplanation } from '../../bridge/use-explanation.ts';
import { ActButton } from '../../components/act-button.tsx';
import { capital, percentWords } from './cause-words.ts';

interface CausesBriefProps {
  readonly build: Build;
  readonly onOpen: () => void;
  /** Also while nothing stands open: readings that do not go together. */
  readonly isOdd?: boolean;
}

/** One quiet line under a reading that does not fit: the likeliest explanation, and the way to all of them. */
export function CausesBrief({ build, onOpen, isOdd = false }: CausesBriefProps) {
  const asks = isOdd || asksForCause(build.build, build.kit);
  const { explanation, progress } = useExplanation(asks);
  if (!asks) return null;
  const slip = explanation !== null && explanation.slipProbability > 0.5 ? explanation.slips[0] : undefined;
  const cause = explanation?.causes[0];
  return (
    <aside className="causes-brief" aria-label="What may explain this">
      {slip !== undefined ? (
        <p>
          Perhaps a slip of measuring: {slip.words}, {percentWords(slip.probability)}.
        </p>
      ) : cause !== undefined ? (
        <p>
          {capital(cause.chance)}: {cause.group}, {percentWords(cause.probability)}.
        </p>
      ) : progress !== null ? (
        <p>
          <label>
            What may explain this is being worked out. <progress value={progress} />
          </label>
        </p>
      ) : null}
      <ActButton look="quiet" onAct={onOpen}>
        What may explain this
      </ActButton>
    </aside>
  );
}
