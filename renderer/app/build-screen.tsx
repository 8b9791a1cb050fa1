import { useEffect, useState } from 'react';
import { useLink, useShown } from '../bridge/link-context.ts';
import type { Told } from '../bridge/link.ts';
import type { Build } from '../bridge/use-build.ts';
import { useBuild } from '../bridge/use-build.ts';
import { useWakeLock } from '../bridge/use-wake-lock.ts';
import { ProblemList } from '../components/problem-list.tsx';
import { RefusalList } from '../components/refusal-list.tsx';
import { AlarmStrip } from '../features/alarm/alarm-strip.tsx';
import { barWords, unknownWords } from '../features/bar/bar-words.ts';
import { EnergyBar } from '../features/bar/energy-bar.tsx';
import { CausesBrief } from '../features/causes/causes-brief.tsx';
import { CausesPage } from '../features/causes/causes-page.tsx';
import type { ChosenCause } from '../features/causes/cause-words.ts';
import { BenchPage } from '../features/bench/bench-page.tsx';
import { ChapterList } from '../features/chapters/chapter-list.tsx';
import { StoresPage } from '../features/drain/stores-page.tsx';
import { GatePage } from '../features/gate/gate-page.tsx';
import { GlancePage } from '../features/glance/glance-page.tsx';
import { KitChange } from '../features/kit-change/kit-change.tsx';
import { NotesPage } from '../features/notes/notes-page.tsx';
import { PracticeBand } from '../features/practice/practice-band.tsx';
import { AskPage } from '../features/photos/ask-page.tsx';
import { BuildPhotos } from '../features/photos/build-photos.tsx';
import { StepNotes } from '../features/photos/step-notes.tsx';
import { ReadingsPage } from '../features/readings/readings-page.tsx';
import { RepairPage } from '../features/repair/repair-page.tsx';
import { ReportPage } from '../features/report/report-page.tsx';
import { UnknownPage } from '../features/stop/unknown-page.tsx';
import { BuildFitPage } from '../features/valve-fit/build-fit-page.tsx';
import { readingsOfStep } from '../../shared-core/safety/lookup.ts';
import { assertNever } from '../../shared-core/problem/assert-never.ts';
import type { BuildPage, View } from './view.ts';
import { WalkScreen } from './walk-screen.tsx';

interface BuildScreenProps {
  readonly page: BuildPage;
  readonly go: (view: View) => void;
}

/** A build: the energy bar on top, chapters at the edge, one page in the middle. */
export function BuildScreen({ page, go }: BuildScreenProps) {
  const build = useBuild();
  const { forget } = useLink();
  const [wanted, setWanted] = useState<string | null>(null);
  const [asked, setAsked] = useState<string | null>(null);
  const [cause, setCause] = useState<ChosenCause | null>(null);
  useSpokenState(build);
  useWakeLock(build?.safety.energy.kind === 'live');
  if (build === null) return null;
  const id = build.build.build;
  const about = wanted ?? build.currentStep;
  const open = (next: BuildPage): void => {
    forget();
    setAsked(null);
    setCause(null);
    go({ kind: 'build', build: id, page: next });
  };
  const toStep = (step: string | null): void => {
    setWanted(step === build.currentStep ? null : step);
    open('walk');
  };
  const toReading = (reading: string): void => {
    toStep(stepOfReading(build, reading));
    setAsked(reading);
  };
  const toRepair = (found: ChosenCause): void => {
    open('repair');
    setCause(found);
  };
  return (
    <div className="build">
      <EnergyBar build={build} onPlugOut={() => toStep(null)}>
        <AlarmStrip build={build} />
        {build.practice === undefined ? null : <PracticeBand build={build} />}
      </EnergyBar>
      <aside className="edge">
        <ChapterList build={build} shown={page === 'walk' ? wanted : null} onStep={toStep} />
        <EdgeLinks page={page} isPractice={build.practice !== undefined} open={open} go={go} />
      </aside>
      <main className="middle">
        <Notices told={build.notices ?? []} />
        {build.kitChange == null || !build.known || isOnlyThePlugLeft(build) ? null : (
          <KitChange build={build} change={build.kitChange} />
        )}
        {build.known || isToRead(page) ? null : <UnknownPage isWriter={build.writer} />}
        <div hidden={!build.known && !isToRead(page)}>
          <Page {...{ build, page, wanted, asked, cause, open, toStep, toReading, toRepair }} />
        </div>
        {page === 'walk' && build.known && build.practice === undefined && !isOnlyThePlugLeft(build) ? (
          <StepNotes key={about} build={build} about={about} onAsk={() => open('ask')} />
        ) : null}
      </main>
    </div>
  );
}

function isOnlyThePlugLeft({ safety: { energy } }: Build): boolean {
  return energy.kind === 'live' && energy.mustPull !== null;
}

/** Pages that tell what was, and nothing that a hand could follow now. */
function isToRead(page: BuildPage): boolean {
  return page === 'readings' || page === 'glance' || page === 'notes' || page === 'report';
}

interface PageProps {
  readonly build: Build;
  readonly page: BuildPage;
  readonly wanted: string | null;
  /** The reading that was asked for; null for the next one of the step. */
  readonly asked: string | null;
  /** The cause that was chosen as the one; null for none. */
  readonly cause: ChosenCause | null;
  readonly toReading: (reading: string) => void;
  readonly toRepair: (cause: ChosenCause) => void;
  readonly open: (page: BuildPage) => void;
  readonly toStep: (step: string | null) => void;
}

function Page(props: PageProps) {
  const { build, page, wanted, asked, cause, open, toStep, toReading, toRepair } = props;
  const toCauses = (): void => open('causes');
  const about = wanted ?? build.currentStep;
  const { energy } = build.safety;
  // While live with only the plug left to pull, nothing else is on the screen.
  const isAway = build.practice !== undefined && ofBuildsOnly.has(page);
  if (page === 'walk' || isAway || (energy.kind === 'live' && energy.mustPull !== null)) {
    return <WalkScreen {...{ build, wanted, asked }} onStep={toStep} onPage={open} />;
  }
  switch (page) {
    case 'bench':
      return <BenchPage build={build} onDone={() => open('walk')} />;
    case 'readings':
      return (
        <ReadingsPage
          build={build}
          causes={(isOdd) => <CausesBrief build={build} isOdd={isOdd} onOpen={toCauses} />}
        />
      );
    case 'glance':
      return <GlancePage build={build} />;
    case 'stores':
      return energy.kind === 'dead' ? (
        <StoresPage build={build} />
      ) : (
        <WalkScreen {...{ build, wanted, asked }} onStep={toStep} onPage={open} />
      );
    case 'gate':
      return <GatePage build={build} />;
    case 'causes':
      return (
        <CausesPage
          build={build}
          onReading={toReading}
          onDrain={() => toStep(null)}
          onStores={() => open('stores')}
          onRepair={toRepair}
        />
      );
    case 'repair':
      return (
        <RepairPage build={build} cause={cause} onDone={() => toStep(null)} onStores={() => open('stores')} />
      );
    case 'fit':
      return <BuildFitPage build={build} />;
    case 'notes':
      return (
        <NotesPage build={build} about={about}>
          <BuildPhotos build={build} about={about} />
        </NotesPage>
      );
    case 'report':
      return <ReportPage build={build} onAsk={() => open('ask')} />;
    case 'ask':
      return <AskPage build={build} about={about} />;
    default:
      return assertNever(page);
  }
}

/** The step that takes a reading; null where none does. */
function stepOfReading({ facts }: Build, reading: string): string | null {
  return facts.steps.find((step) => readingsOfStep(step).includes(reading))?.id ?? null;
}

const links: readonly (readonly [BuildPage, string])[] = [
  ['walk', 'Step to do now'],
  ['readings', 'Readings'],
  ['glance', 'At a glance'],
  ['gate', 'Cold gate'],
  ['stores', 'Stores'],
  ['causes', 'Causes'],
  ['repair', 'Repair'],
  ['fit', 'Another valve'],
  ['bench', 'Bench'],
  ['notes', 'Notes'],
  ['report', 'Report'],
];

/** What a practice power-up has not: nothing of it is kept, printed or handed on. */
const ofBuildsOnly: ReadonlySet<BuildPage> = new Set(['fit', 'notes', 'report', 'ask']);

interface EdgeLinksProps extends Pick<BuildScreenProps, 'page' | 'go'>, Pick<PageProps, 'open'> {
  readonly isPractice: boolean;
}

function EdgeLinks({ page, isPractice, open, go }: EdgeLinksProps) {
  const shown = isPractice ? links.filter(([to]) => !ofBuildsOnly.has(to)) : links;
  return (
    <nav aria-label="Build" className="edge-links">
      {shown.map(([to, words]) => (
        <button
          key={to}
          type="button"
          aria-current={to === page ? 'page' : undefined}
          onClick={() => open(to)}
        >
          {words}
        </button>
      ))}
      <button type="button" onClick={() => go({ kind: 'shelf' })}>
        Shelf
      </button>
      <button type="button" onClick={() => go({ kind: 'settings' })}>
        Settings
      </button>
    </nav>
  );
}

/** Why the last action was not written. */
function Notices({ told }: { readonly told: readonly Told[] }) {
  const refused = useShown((state) => state.refused);
  const problems = useShown((state) => state.problems);
  if (refused.length + problems.length + told.length === 0) return null;
  return (
    <div className="notices">
      <RefusalList refusals={refused} most={3} />
      <ProblemList problems={[...problems, ...told]} />
    </div>
  );
}

/** Says the energy state in the live region when it changes. */
function useSpokenState(build: Build | null): void {
  const { say } = useLink();
  const words =
    build === null
      ? ''
      : build.known
        ? barWords({ ...build, bench: build.build.bench }).state
        : `${unknownWords.state}: treat as live`;
  useEffect(() => {
    if (words !== '') say(words);
  }, [words, say]);
}
