import { socketDifferences } from '../../../shared-core/safety/sockets.ts';
import { SocketChanges } from './socket-changes.tsx';
import type { StepPageProps } from './step-props.ts';
import { conditionToFitFor } from './walk-mode.ts';

/** The valves that go in, or come out, at this step: the last one inside before the plug. */
export function ValvesToFit({ build, step }: StepPageProps) {
  const { facts, safety } = build;
  const condition = conditionToFitFor(facts, step.id);
  if (condition === null) return null;
  return <SocketChanges build={build} differences={socketDifferences(condition, safety, facts)} />;
}
