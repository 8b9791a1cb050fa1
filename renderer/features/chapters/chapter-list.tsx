import type { Chapter } from '../../../shared-core/kit/kit.ts';
import { isStepHeld } from '../../../shared-core/safety/lookup.ts';
import type { Build } from '../../bridge/use-build.ts';
import { MarkDone } from '../../components/mark-done.tsx';

interface ChapterListProps {
  readonly build: Build;
  /** The step on the screen. */
  readonly shown: string | null;
  readonly onStep: (step: string) => void;
}

/** The chapters at the edge; the one on the screen shows its steps. */
export function ChapterList({ build, shown, onStep }: ChapterListProps) {
  const { kit, currentStep } = build;
  const now = shown ?? currentStep;
  return (
    <nav aria-label="Chapters" className="chapters">
      <ol>
        {kit.chapters.map((chapter) => {
          const isOpen = chapter.steps.some(({ id }) => id === now);
          return (
            <li key={chapter.id} className={isOpen ? 'chapter-open' : undefined}>
              <button
                type="button"
                className="chapter"
                aria-current={isOpen ? 'true' : undefined}
                onClick={() => onStep(firstOpen(chapter, build))}
              >
                <span>{chapter.title}</span>
                <MarkDone how={markOf(chapter, build)} />
              </button>
              {isOpen ? <Steps chapter={chapter} build={build} now={now} onStep={onStep} /> : null}
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

function Steps(props: {
  readonly chapter: Chapter;
  readonly build: Build;
  readonly now: string | null;
  readonly onStep: (step: string) => void;
}) {
  const { chapter, build, now, onStep } = props;
  return (
    <ol className="chapter-steps">
      {chapter.steps.map(({ id, title }) => (
        <li key={id}>
          <button
            type="button"
            className="chapter-step"
            aria-current={id === now ? 'step' : undefined}
            onClick={() => onStep(id)}
          >
            <span>{title}</span>
            <MarkDone how={stepMark(id, build)} />
          </button>
        </li>
      ))}
    </ol>
  );
}

function stepMark(
  id: string,
  { build, currentStep, facts, safety }: Build,
): 'done' | 'now' | 'open' | 'declared' {
  if (id === currentStep) return 'now';
  const step = facts.steps.find((each) => each.id === id);
  if (build.steps[id]?.status === 'declared') return 'declared';
  return step !== undefined && isStepHeld(step, safety, facts) ? 'done' : 'open';
}

function markOf(chapter: Chapter, build: Build): 'done' | 'now' | 'open' | 'declared' {
  const marks = chapter.steps.map(({ id }) => stepMark(id, build));
  if (marks.includes('now')) return 'now';
  if (marks.every((mark) => mark === 'declared')) return 'declared';
  return marks.every((mark) => mark === 'done' || mark === 'declared') ? 'done' : 'open';
}

function firstOpen(chapter: Chapter, build: Build): string {
  const open = chapter.steps.find(({ id }) => ['now', 'open'].includes(stepMark(id, build)));
  return (open ?? chapter.steps[0])?.id ?? '';
}
