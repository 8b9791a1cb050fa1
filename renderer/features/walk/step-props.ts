import type { ReactNode } from 'react';
import type { Reading, Step } from '../../../shared-core/kit/kit.ts';
import type { TakenFrom } from '../../../shared-core/safety/instrument.ts';
import type { Build } from '../../bridge/use-build.ts';

/** What every part of a step's page is given. */
export interface StepPageProps {
  readonly build: Build;
  readonly step: Step;
  /** Goes to the step to do now. */
  readonly onNext: () => void;
  readonly onStep: (step: string) => void;
  /** What a meter on a cable shows, beside the entry field; it offers a number and enters none. */
  readonly meter?: (given: {
    readonly reading: Reading;
    readonly onTake: (text: string, from: TakenFrom) => void;
  }) => ReactNode;
  /** The reading that was asked for; null or left out for the next one. */
  readonly asked?: string | null;
  /** What may explain a reading that does not fit: advice. */
  readonly causes?: () => ReactNode;
  readonly onPage: (page: 'stores' | 'repair' | 'gate' | 'report' | 'bench') => void;
}
