import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import { ActButton } from '../../components/act-button.tsx';
import { AdjusterButton } from './adjuster-button.tsx';
import { stepForRefusal } from './step-for-refusal.ts';
import type { StepPageProps } from './step-props.ts';

interface RefusalHelpProps extends Pick<StepPageProps, 'onPage' | 'onStep' | 'build' | 'step'> {
  readonly refusal: Refusal;
}

const toStores = new Set(['safety/ohms-volts', 'safety/solder-volts', 'safety/clip-fitted']);
const toBench = new Set([
  'safety/bench-missing',
  'safety/mains-differ',
  'safety/meter-too-coarse',
  'safety/over-meter-rating',
  'safety/meter-category',
]);
const toRepair = new Set(['safety/verdict-open']);

/** The way to what a refusal asks for. */
export function RefusalHelp({ refusal, build, step, onPage, onStep }: RefusalHelpProps) {
  const { code, subject } = refusal;
  if (toStores.has(code)) return link('Measure the stores', () => onPage('stores'));
  if (toBench.has(code)) return link('To the bench', () => onPage('bench'));
  if (toRepair.has(code)) return link('Record a repair', () => onPage('repair'));
  const adjuster = build.facts.fixedBias.flatMap(({ adjusters }) => adjusters).find((id) => id === subject);
  if (code === 'safety/bias-not-proven' && adjuster !== undefined)
    return <AdjusterButton build={build} adjuster={adjuster} />;
  const other = stepForRefusal(refusal, build.facts, step.id);
  if (other === null) return null;
  return link(code === 'safety/wrong-condition' ? 'To switching on' : 'Go there', () => onStep(other));
}

function link(words: string, go: () => void) {
  return (
    <ActButton look="quiet" onAct={go}>
      {words}
    </ActButton>
  );
}
