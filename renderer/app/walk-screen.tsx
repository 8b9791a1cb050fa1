import { assertNever } from '../../shared-core/problem/assert-never.ts';
import type { Step } from '../../shared-core/kit/kit.ts';
import type { Build } from '../bridge/use-build.ts';
import { ActButton } from '../components/act-button.tsx';
import { Heading } from '../components/heading.tsx';
import { CausesBrief } from '../features/causes/causes-brief.tsx';
import { DrainPage } from '../features/drain/drain-page.tsx';
import { MeterBeside } from '../features/instruments/meter-beside.tsx';
import { PracticeMeter } from '../features/practice/practice-meter.tsx';
import { DescribePage } from '../features/stop/describe-page.tsx';
import { PlugOutPage } from '../features/stop/plug-out-page.tsx';
import { PullPage } from '../features/stop/pull-page.tsx';
import { AfterWorkPage } from '../features/walk/after-work-page.tsx';
import { LivePage } from '../features/walk/live-page.tsx';
import { StepPage } from '../features/walk/step-page.tsx';
import type { StepPageProps } from '../features/walk/step-props.ts';
import { reentryStep, walkMode } from '../features/walk/walk-mode.ts';
import { useStepAloud } from './use-read-aloud.ts';
import type { BuildPage } from './view.ts';

interface WalkScreenProps {
  readonly build: Build;
  /** The step that the builder chose to look at; null for the one to do now. */
  readonly wanted: string | null;
  /** The reading that the builder asked for; null for the next one. */
  readonly asked: string | null;
  readonly onStep: (step: string | null) => void;
  readonly onPage: (page: BuildPage) => void;
}

/** The middle of the bench screen: the energy state first, then the kit's step. */
export function WalkScreen({ build, wanted, asked, onStep, onPage }: WalkScreenProps) {
  const { safety, facts, kit } = build;
  const { energy } = safety;
  const shown = wanted ?? build.currentStep;
  const again = reentryStep(safety, facts, build.refusalsOf);
  const mode = walkMode(safety, facts, shown, wanted !== null, again);
  const steps = kit.chapters.flatMap((chapter) => chapter.steps);
  const stepOf = (id: string | null): Step | undefined => steps.find((step) => step.id === id) ?? steps[0];
  const step = stepOf(mode.kind === 'step' ? mode.step : shown);
  useStepAloud(mode.kind === 'step' ? (step ?? null) : null);
  if (step === undefined) return null;
  const meter: StepPageProps['meter'] = (given) =>
    build.practice === undefined ? (
      <MeterBeside build={build} {...given} />
    ) : (
      <PracticeMeter build={build} reading={given.reading} />
    );
  const causes = () => <CausesBrief build={build} onOpen={() => onPage('causes')} />;
  const common = { build, step, meter, asked, causes, onNext: () => onStep(null), onStep, onPage };
  switch (mode.kind) {
    case 'pull':
      return <PullPage build={build} onPlugOut={() => onStep(null)} />;
    case 'plug-out':
      return energy.kind === 'draining' ? <PlugOutPage build={build} draining={energy} /> : null;
    case 'describe':
      return <DescribePage build={build} />;
    case 'drain':
      return energy.kind === 'draining' ? (
        <DrainPage
          build={build}
          causes={causes()}
          draining={energy}
          onReenter={again === null ? null : () => onStep(again)}
          onStores={() => onPage('stores')}
        />
      ) : null;
    case 'live':
      return <LivePage {...common} condition={mode.condition} />;
    case 'after-work':
      return <AfterWorkPage {...common} />;
    case 'finished':
      return <Finished onPage={onPage} />;
    case 'step':
      return <StepPage {...common} />;
    default:
      return assertNever(mode);
  }
}

function Finished({ onPage }: { readonly onPage: (page: BuildPage) => void }) {
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="finished">Every step is done</Heading>
        <p className="large">Print the report and keep it inside the amplifier’s box.</p>
      </header>
      <div className="step-main">
        <ActButton look="move" hotkey="Enter" onAct={() => onPage('report')}>
          To the report
        </ActButton>
      </div>
    </article>
  );
}
