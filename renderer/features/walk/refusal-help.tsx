import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { StepPageProps } from './step-props.ts';

interface RefusalHelpProps extends Pick<StepPageProps, 'onPage' | 'onStep' | 'build'> {
  readonly refusal: Refusal;
}

const toStores = new Set(['safety/ohms-volts', 'safety/solder-volts', 'safety/clip-fitted']);
const toBench = new Set(['safety/bench-missing', 'safety/over-meter-rating', 'safety/meter-category']);
const toRepair = new Set(['safety/verdict-open']);

/** The way to what a refusal asks for. */
export function RefusalHelp({ refusal, build, onPage, onStep }: RefusalHelpProps) {
  const { code, subject } = refusal;
  if (toStores.has(code)) return link('Measure the stores', () => onPage('stores'));
  if (toBench.has(code)) return link('To the bench', () => onPage('bench'));
  if (toRepair.has(code)) return link('Record a repair', () => onPage('repair'));
  const step = stepFor(subject, build.facts.steps, code);
  return step === null ? null : link('Go there', () => onStep(step));
}

function link(words: string, go: () => void) {
  return (
    <ActButton look="quiet" onAct={go}>
      {words}
    </ActButton>
  );
}

/** The step meant, or the step that takes the reading meant. */
function stepFor(
  subject: string | null,
  steps: StepPageProps['build']['facts']['steps'],
  code: string,
): string | null {
  if (subject === null || code === 'safety/step-not-finished') return null;
  if (steps.some(({ id }) => id === subject)) return subject;
  const reader = steps.find(
    ({ action }) =>
      ('readings' in action && (action.readings as readonly string[]).includes(subject)) ||
      (action.kind === 'fuse' && action.part === subject),
  );
  return reader?.id ?? null;
}
