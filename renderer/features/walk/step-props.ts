import type { Step } from '../../../shared-core/kit/kit.ts';
import type { Build } from '../../bridge/use-build.ts';

/** What every part of a step's page is given. */
export interface StepPageProps {
  readonly build: Build;
  readonly step: Step;
  /** Goes to the step to do now. */
  readonly onNext: () => void;
  readonly onStep: (step: string) => void;
  readonly onPage: (page: 'stores' | 'repair' | 'gate' | 'report' | 'bench') => void;
}
