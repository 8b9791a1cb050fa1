import { assertNever } from '../../../shared-core/problem/assert-never.ts';
import { StepFigures } from './step-figures.tsx';
import { CompareBody } from './measured-bodies.tsx';
import { FuseBody } from './fuse-body.tsx';
import { InspectList } from './inspect-list.tsx';
import { PartDiffers } from './part-differs.tsx';
import { LeadsTable, PartsTable } from './parts-table.tsx';
import { MoveOn } from './move-on.tsx';
import { PlugIn } from './plug-in.tsx';
import { ReadingStation } from './reading-station.tsx';
import { SignBody } from './sign-body.tsx';
import { SoakBody } from './soak-body.tsx';
import type { StepPageProps } from './step-props.ts';
import { ValvesToFit } from './valves-to-fit.tsx';
import { stepReadings } from './walk-mode.ts';

/** What a step asks for below its words; each kind of step has its own. */
export function StepBody(props: StepPageProps) {
  const { build, step } = props;
  const { action } = step;
  switch (action.kind) {
    case 'gather':
    case 'assemble':
    case 'inspect':
    case 'listen':
      return <WorkBody {...props} />;
    case 'read':
      return <ReadingStation {...props} readings={action.readings} />;
    case 'signal':
      return <ReadingStation {...props} readings={action.readings} />;
    case 'adjust':
      return <ReadingStation {...props} readings={stepReadings(build.facts, step.id)} adjust={action} />;
    case 'compare':
      return <CompareBody {...props} action={action} />;
    case 'soak':
      return <SoakBody {...props} action={action} />;
    case 'fuse':
      return <FuseBody {...props} part={action.part} />;
    case 'switch-on':
      return <PlugIn {...props} condition={action.condition} />;
    case 'switch-off':
      return (
        <div className="step-main">
          <InspectList {...props} />
          {build.safety.energy.kind === 'live' ? (
            <p>The bar stays live until you confirm that the plug is out.</p>
          ) : (
            <MoveOn {...props} words="The plug is out" />
          )}
        </div>
      );
    case 'drain':
      return (
        <div className="step-main">
          <p>Every store is proven empty.</p>
          <MoveOn {...props} words="Go on" />
        </div>
      );
    case 'sign':
      return <SignBody {...props} />;
    default:
      return assertNever(action);
  }
}

/** Gather, assemble, inspect, listen: parts, leads and things to look at. */
function WorkBody(props: StepPageProps) {
  const { step, build } = props;
  const isGather = step.action.kind === 'gather';
  return (
    <>
      <div className="step-main">
        <PartsTable build={build} ids={step.parts} measuring={isGather || step.action.kind === 'assemble'} />
        <PartDiffers build={build} ids={step.parts} />
        <LeadsTable build={build} ids={step.leads} />
        <ValvesToFit {...props} />
        <InspectList {...props} />
        <MoveOn {...props} words={isGather ? 'All there' : 'Done'} />
      </div>
      <StepFigures
        build={build}
        step={step}
        drawn={isGather ? null : { parts: step.parts, leads: step.leads }}
      />
    </>
  );
}
