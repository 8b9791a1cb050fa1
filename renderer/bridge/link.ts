import { createStore } from 'zustand/vanilla';
import type { StoreApi } from 'zustand/vanilla';
import type {
  ActOutcome,
  Answer,
  Arguments,
  BlobFile,
  BlobName,
  Blobs,
  BuilderAction,
  BuildView,
  CallName,
  Expectation,
  Hello,
  HostEvent,
  JudgedReading,
  NewPhoto,
} from '../../shared-core/contract/calls.ts';
import type { Settings } from '../../shared-core/contract/settings.ts';
import { initialSettings } from '../../shared-core/contract/settings.ts';
import type { KitProblem } from '../../shared-core/problem/problem.ts';
import type { Refusal } from '../../shared-core/safety/refusal.ts';
import { isStateKnown } from '../../shared-core/safety/screen-trust.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { Means } from '../../shared-core/safety/stamp.ts';
import type { Bridge } from './bridge.ts';
import { heardFrom, hostNow, sleptBetween } from './host-clock.ts';
import type { Heard, ScreenClocks } from './host-clock.ts';

/** A problem as a screen tells it. */
export type Told = Omit<KitProblem, 'code' | 'severity'>;

/** What the screens show; changed only by the link. */
export interface LinkState {
  readonly hello: Hello | null;
  readonly settings: Settings;
  /** The build that is open. */
  readonly view: BuildView | null;
  /** The number entered last, judged. */
  readonly judged: JudgedReading | null;
  /** Why the last action was not written. */
  readonly refused: readonly Refusal[];
  readonly problems: readonly Told[];
  /** For the one live region. */
  readonly said: string;
  readonly heard: Heard | null;
  readonly woke: boolean;
  /** This screen's tick at the last look at the clock, in milliseconds (ms). */
  readonly screenTick: number;
  /** Progress of predictions under way, by condition, 0 to 1. */
  readonly jobs: Readonly<Record<string, number>>;
}

/** The screen's clocks, given so that tests can turn them. */
export interface ScreenClock {
  readonly read: () => ScreenClocks;
}

/** The screens' connection to the host: state to show and the few things to ask for. */
export interface Link {
  readonly store: StoreApi<LinkState>;
  readonly call: <Name extends CallName>(name: Name, given: Arguments<Name>) => Promise<Answer<Name> | null>;
  readonly blob: <Name extends BlobName>(name: Name, given: Blobs[Name]) => Promise<BlobFile | null>;
  readonly refresh: () => Promise<void>;
  readonly openBuild: (build: string) => Promise<boolean>;
  readonly showBuild: (view: BuildView | null) => void;
  /** @returns True when it was written. */
  readonly act: (action: BuilderAction) => Promise<boolean>;
  /** @returns True when the photo is kept with the open build. */
  readonly addPhoto: (photo: NewPhoto, by: Means) => Promise<boolean>;
  readonly expect: (condition: string) => Promise<Expectation | null>;
  readonly setSettings: (settings: Partial<Settings>) => Promise<void>;
  readonly say: (words: string) => void;
  readonly forget: () => void;
  /** Looks at the clock; called every half second. */
  readonly look: () => void;
  readonly close: () => void;
}

const lost: Told = {
  message: 'The host does not answer.',
  hint: 'Treat the amplifier as live. If this stays, start Kitwright again and open the address that it then shows.',
};

/** Connects the screens to a bridge. */
export function openLink(bridge: Bridge, clock: ScreenClock): Link {
  let clocks = clock.read();
  const store = createStore<LinkState>(() => ({
    hello: null,
    settings: initialSettings,
    view: null,
    judged: null,
    refused: [],
    problems: [],
    said: '',
    heard: null,
    woke: false,
    screenTick: clocks.tick,
    jobs: {},
  }));
  const { setState, getState } = store;
  let waiting = 0;
  const call: Link['call'] = async (name, given) => {
    try {
      return await bridge.call(name, given);
    } catch {
      setState({ problems: [lost] });
      return null;
    }
  };
  const openBuild = async (build: string): Promise<boolean> => {
    const opened = await call('build.open', { build });
    if (opened === null) return false;
    if (!opened.ok) setState({ problems: opened.problems });
    else if (!isOlder(opened.value, getState().view)) setState({ view: opened.value, problems: [] });
    return opened.ok;
  };
  const hear = (event: HostEvent): void => setState(afterEvent(getState(), event, clock.read().tick));
  // The newest entry heard of, by build: what is on screen must never stay behind it.
  const newest = new Map<string, number>();
  let fetching = false;
  const catchUp = async (): Promise<void> => {
    const { view } = getState();
    if (view === null || waiting > 0 || fetching) return;
    const { build, seq } = view.build;
    if ((newest.get(build) ?? 0) <= seq) return;
    fetching = true;
    await openBuild(build).finally(() => (fetching = false));
  };
  const refetch = (event: HostEvent): void => {
    if (event.kind === 'build-changed')
      newest.set(event.build, Math.max(newest.get(event.build) ?? 0, event.seq));
    const isLapse = event.kind === 'build-changed' && event.lapsed === true;
    // A lapse that could not be written has no entry of its own, and is fetched whatever else is under way.
    if (isLapse && getState().view?.build.build === event.build) void openBuild(event.build);
    // Each heartbeat looks again: an answer may have been lost, or been overtaken while it was under way.
    else void catchUp();
  };
  const stop = bridge.listen((event) => {
    hear(event);
    refetch(event);
  });
  let queue: Promise<unknown> = Promise.resolve();
  const ask = async (action: BuilderAction): Promise<ActOutcome | null> => {
    const { view } = getState();
    if (view === null) return null;
    const { build, seq } = view.build;
    const outcome = await call('build.act', { build, expectedSeq: seq, action });
    if (outcome !== null) setState(afterAct(outcome, getState().view));
    return outcome;
  };
  const act = (action: BuilderAction): Promise<boolean> => {
    const isUrgent = alarms.has(action.kind) || action.kind === 'plug-out-confirmed';
    // Nothing waits that takes the amplifier out of danger: a number may take seconds to be judged.
    const next = (isUrgent ? Promise.resolve() : queue).then(async () => {
      let outcome = await ask(action);
      // Whatever else was written meanwhile: an alarm makes nothing more permissive, and is never lost.
      for (
        let turn = 0;
        outcome?.kind === 'stale' && alarms.has(action.kind) && turn < mostTurns;
        turn += 1
      ) {
        outcome = await ask(action);
      }
      return outcome?.kind === 'done';
    });
    waiting += 1;
    const settled = next.finally(() => {
      waiting -= 1;
      void catchUp();
    });
    queue = isUrgent ? Promise.allSettled([queue, settled]) : settled;
    return next;
  };
  return {
    store,
    call,
    blob: (name, given) =>
      bridge.blob(name, given).catch(() => {
        setState({ problems: [lost] });
        return null;
      }),
    refresh: async () => {
      const [hello, settings] = [await call('app.hello', {}), await call('settings.get', {})];
      setState({ ...(hello === null ? {} : { hello }), ...(settings === null ? {} : { settings }) });
    },
    openBuild,
    showBuild: (view) => setState({ view, judged: null, refused: [], problems: [] }),
    act,
    addPhoto: async (photo, by) => {
      // A photo decides nothing: what was written meanwhile does not take it back.
      for (let turn = 0; turn < mostTurns; turn += 1) {
        const { view } = getState();
        if (view === null) return false;
        const { build, seq: expectedSeq } = view.build;
        const outcome = await call('photo.add', { build, expectedSeq, photo, by });
        if (outcome === null) return false;
        if (outcome.kind !== 'stale') {
          setState(afterAct(outcome, getState().view));
          return outcome.kind === 'done';
        }
        setState({ view: outcome.view });
      }
      return false;
    },
    expect: async (condition) => {
      const { view } = getState();
      if (view === null) return null;
      const answer = await call('predict.condition', { build: view.build.build, condition });
      return answer?.ok === true ? answer.value : null;
    },
    setSettings: async (settings) => {
      const kept = await call('settings.set', { settings });
      if (kept !== null) setState({ settings: kept });
    },
    say: (said) => setState({ said }),
    forget: () => setState({ judged: null, refused: [], problems: [] }),
    look: () => {
      const now = clock.read();
      const slept = sleptBetween(clocks, now);
      clocks = now;
      setState((state) => ({ screenTick: now.tick, woke: state.woke || slept }));
    },
    close: stop,
  };
}

/** How often an alarm that was overtaken is given again: each time only because something else was written. */
const mostTurns = 10;

/** Events that are always believed, and end what was proven: see the rules. */
const alarms: ReadonlySet<BuilderAction['kind']> = new Set(['something-wrong', 'found-plugged-in']);

const overtaken = {
  message: 'Something else was written first.',
  hint: 'Look again, then decide again.',
} satisfies Told;

/** An answer that was overtaken by a newer one. */
function isOlder(given: BuildView, held: BuildView | null): boolean {
  return held !== null && given.build.build === held.build.build && given.build.seq < held.build.seq;
}

function afterEvent(state: LinkState, event: HostEvent, tick: number): Partial<LinkState> {
  switch (event.kind) {
    case 'heartbeat':
      return { heard: heardFrom(event, tick), woke: false, screenTick: tick };
    case 'job':
      return { jobs: { ...state.jobs, [event.condition]: event.progress } };
    default:
      return {};
  }
}

function afterAct(outcome: ActOutcome, held: BuildView | null): Partial<LinkState> {
  const newer = (view: BuildView): BuildView => (held !== null && isOlder(view, held) ? held : view);
  switch (outcome.kind) {
    case 'done':
      return {
        view: newer(outcome.view),
        judged: outcome.judged,
        refused: [],
        problems: [],
        ...(outcome.judged === null ? {} : { said: outcome.judged.words }),
      };
    case 'refused':
      return {
        view: newer(outcome.view),
        refused: outcome.refusals,
        said: outcome.refusals.map(({ message, hint }) => `${message} ${hint}`).join(' '),
      };
    case 'stale':
      // Only the plug is left to pull: what was overtaken by that is of no interest.
      if (mustPull(outcome.view)) return { view: newer(outcome.view), refused: [], problems: [] };
      return {
        view: newer(outcome.view),
        refused: [],
        problems: [overtaken],
        said: `${overtaken.message} ${overtaken.hint}`,
      };
    default:
      return { problems: outcome.problems, said: outcome.problems.map(({ message }) => message).join(' ') };
  }
}

function mustPull({ build: { safety } }: BuildView): boolean {
  return safety.energy.kind === 'live' && safety.energy.mustPull !== null;
}

/** Whether the screen may show the energy state, at its last look at the clock. */
export function isKnown({ heard, screenTick, woke, view }: LinkState): boolean {
  return isStateKnown({
    lastHeardTick: heard?.screenTick ?? null,
    nowTick: Math.max(screenTick, heard?.screenTick ?? 0),
    wokeFromSleep: woke,
    isWriter: view?.writer !== false,
  });
}

/** The host's clocks at the last look, in milliseconds (ms); the view's own when nothing was heard. */
export function nowOf({ heard, screenTick, view }: LinkState) {
  if (heard !== null) return ahead(hostNow(heard, screenTick), view?.practice?.skippedMs ?? 0);
  return view?.now ?? { at: '1970-01-01T00:00:00.000Z', run: '', tick: 0 };
}

/** The clocks of a practice power-up run ahead of the host's by the waits that were skipped. */
function ahead(stamp: Stamp, skippedMs: number): Stamp {
  if (skippedMs === 0) return stamp;
  const at = new Date(Date.parse(stamp.at) + skippedMs).toISOString();
  return { ...stamp, at, tick: stamp.tick + skippedMs };
}
