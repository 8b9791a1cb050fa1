import { useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { OpenedKit, RecordView } from '../../shared-core/contract/calls.ts';
import type { Choices } from '../../shared-core/kit/kit.ts';
import type { StartedFrom } from '../../shared-core/safety/energy-state.ts';
import { useLink, useShown } from '../bridge/link-context.ts';
import { ProblemList } from '../components/problem-list.tsx';
import { InstrumentSettings } from '../features/instruments/instrument-settings.tsx';
import { RecordScreen } from '../features/record/record-screen.tsx';
import { SettingsScreen } from '../features/settings/settings-screen.tsx';
import { ShelfScreen } from '../features/shelf/shelf-screen.tsx';
import { StartScreen } from '../features/start/start-screen.tsx';
import { BuildScreen } from './build-screen.tsx';
import { KitFitScreen } from '../features/valve-fit/kit-fit-screen.tsx';
import { useLook } from './use-look.ts';
import { useSaidAloud } from './use-read-aloud.ts';
import { hashOf, viewOf } from './view.ts';
import type { View } from './view.ts';

/** Everything: one view at a time, one live region. */
export function App() {
  const [view, go] = useView();
  const said = useShown((state) => state.said);
  useLook();
  useSaidAloud();
  return (
    <>
      <CurrentView view={view} go={go} />
      <output className="unseen" aria-live="polite">
        {said}
      </output>
    </>
  );
}

function CurrentView({ view, go }: { readonly view: View; readonly go: (view: View) => void }) {
  const link = useLink();
  const hello = useShown((state) => state.hello);
  const settings = useShown((state) => state.settings);
  const [record, setRecord] = useState<{ readonly text: string; readonly value: RecordView } | null>(null);
  const openRecord = async (text: string): Promise<void> => {
    const answer = await link.call('record.open', { text });
    if (answer === null) return;
    if (!answer.ok) {
      link.store.setState({ problems: answer.problems });
      return;
    }
    setRecord({ text, value: answer.value });
    go({ kind: 'record' });
  };
  const service = async (text: string): Promise<void> => {
    const answer = await link.call('service.start', { text });
    if (answer === null) return;
    if (!answer.ok) {
      link.store.setState({ problems: answer.problems });
      return;
    }
    link.showBuild(answer.value);
    await link.act({ kind: 'declared-assembled', by: 'hand' });
    go({ kind: 'build', build: answer.value.build.build, page: 'bench' });
  };
  useAskedKit(hello?.openPath ?? null, view, go);
  switch (view.kind) {
    case 'kit':
    case 'fit':
      return <KitView path={view.path} isFit={view.kind === 'fit'} go={go} />;
    case 'build':
      return <OpenBuild view={view} go={go} />;
    case 'settings':
      return (
        <SettingsScreen
          settings={settings}
          onChange={(change) => void link.setSettings(change)}
          onBack={() => (link.store.getState().view === null ? go({ kind: 'shelf' }) : history.back())}
        >
          <InstrumentSettings
            instruments={settings.instruments}
            onChange={(instruments) => void link.setSettings({ instruments })}
          />
        </SettingsScreen>
      );
    case 'record':
      return record === null ? null : (
        <>
          <RecordScreen
            record={record.value}
            text={record.text}
            onBack={() => go({ kind: 'shelf' })}
            onService={() => void service(record.text)}
          />
          <Problems />
        </>
      );
    default:
      return hello === null ? (
        <>
          <Waiting />
          <Problems />
        </>
      ) : (
        <>
          <ShelfScreen
            hello={hello}
            onKit={(path) => go({ kind: 'kit', path })}
            onBuild={(build) => go({ kind: 'build', build, page: 'walk' })}
            onRecord={(text) => void openRecord(text)}
          />
          <Problems />
        </>
      );
  }
}

/** The kit that the app was started with is opened once, unless something else is on the screen already. */
function useAskedKit(path: string | null, view: View, go: (view: View) => void): void {
  const asked = useRef<string | null>(null);
  useEffect(() => {
    if (path === null || path === asked.current) return;
    asked.current = path;
    if (view.kind === 'shelf') go({ kind: 'kit', path });
  }, [path, view.kind, go]);
}

function KitView(props: {
  readonly path: string;
  readonly isFit: boolean;
  readonly go: (view: View) => void;
}) {
  const { path, isFit, go } = props;
  const link = useLink();
  const [opened, setOpened] = useState<OpenedKit | null>(null);
  useEffect(() => {
    let gone = false;
    void link.call('kit.open', { path }).then((answer) => {
      if (answer === null || gone) return;
      if (answer.ok) setOpened(answer.value);
      link.store.setState({ problems: answer.ok ? [] : answer.problems });
    });
    return () => {
      gone = true;
    };
  }, [link, path]);
  const start = async (choices: Choices, startedFrom: StartedFrom): Promise<void> => {
    const answer = await link.call('build.start', { path, choices, startedFrom });
    if (answer === null) return;
    if (!answer.ok) {
      link.store.setState({ problems: answer.problems });
      return;
    }
    link.showBuild(answer.value);
    if (startedFrom === 'assembled') await link.act({ kind: 'declared-assembled', by: 'hand' });
    go({ kind: 'build', build: answer.value.build.build, page: 'bench' });
  };
  const practise = async (choices: Choices): Promise<void> => {
    const answer = await link.call('practice.start', { path, choices });
    if (answer === null) return;
    if (!answer.ok) {
      link.store.setState({ problems: answer.problems });
      return;
    }
    link.showBuild(answer.value);
    await link.act({ kind: 'declared-assembled', by: 'hand' });
    go({ kind: 'build', build: answer.value.build.build, page: 'bench' });
  };
  return (
    <>
      {opened === null ? (
        <Waiting />
      ) : isFit ? (
        <KitFitScreen opened={opened} onBack={() => go({ kind: 'kit', path })} />
      ) : (
        <StartScreen
          opened={opened}
          onStart={(choices, from) => void start(choices, from)}
          onPractice={(choices) => void practise(choices)}
          onFit={() => go({ kind: 'fit', path })}
          onBack={() => go({ kind: 'shelf' })}
        />
      )}
      <Problems />
    </>
  );
}

/** Opens the build of the address, if it is not open yet. */
function OpenBuild(props: {
  readonly view: Extract<View, { kind: 'build' }>;
  readonly go: (view: View) => void;
}) {
  const { view, go } = props;
  const { openBuild, showBuild } = useLink();
  const open = useShown((state) => state.view?.build.build ?? null);
  useEffect(() => {
    if (open === view.build) return;
    showBuild(null);
    void openBuild(view.build);
  }, [open, view.build, openBuild, showBuild]);
  return open === view.build ? (
    <BuildScreen page={view.page} go={go} />
  ) : (
    <>
      <Waiting />
      <Problems />
    </>
  );
}

function Waiting() {
  return (
    <main className="page">
      <p className="large">One moment.</p>
    </main>
  );
}

function Problems() {
  const problems = useShown((state) => state.problems);
  return problems.length === 0 ? null : (
    <div className="page" role="alert">
      <ProblemList problems={problems} />
    </div>
  );
}

/** The view, mirrored to the address. */
function useView(): readonly [View, (view: View) => void] {
  const { refresh, store } = useLink();
  const [view, setView] = useState<View>(() => viewOf(location.hash));
  useEffect(() => {
    const follow = (): void =>
      setView((held) =>
        held.kind === 'record' && location.hash === '#record' ? held : viewOf(location.hash),
      );
    window.addEventListener('hashchange', follow);
    return () => window.removeEventListener('hashchange', follow);
  }, []);
  const isShelf = view.kind === 'shelf';
  // Settings are wanted wherever the page begins; the shelf is read again whenever it is shown. Before it is
  // painted, the one of a while ago goes: it would show each build in the state it was in then.
  useLayoutEffect(() => {
    if (isShelf) store.setState({ hello: null });
    void refresh();
  }, [isShelf, refresh, store]);
  const go = useCallback((next: View) => {
    setView(next);
    if (location.hash !== hashOf(next)) location.hash = hashOf(next);
  }, []);
  return [view, go];
}
