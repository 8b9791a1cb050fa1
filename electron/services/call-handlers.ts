import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { Settings } from '../../shared-core/contract/settings.ts';
import type { PracticeCallName, RecordView, ShelfKit } from '../../shared-core/contract/calls.ts';
import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import type { SettingsPort } from '../files/settings-file.ts';
import { sha256 } from '../files/sha256.ts';
import { instrumentHandlers } from './instrument-handlers.ts';
import { answerAdjuster } from './answer-adjuster.ts';
import { answerFit } from './answer-fit.ts';
import { explainAhead, explainReadings } from './explain-readings.ts';
import { openCheckedKit, openKit } from './open-kit.ts';
import { addPhoto } from './add-photo.ts';
import { drawnPaper, soundPhotos } from './papers.ts';
import { startService } from './start-service.ts';
import type { CallHandlers, ServiceContext } from './service-context.ts';

/** A handler for every call of the contract. */
export function callHandlers(context: ServiceContext): Omit<CallHandlers, PracticeCallName> {
  const { shelf, settings, version, face } = context;
  return {
    'app.hello': async () => ({
      version,
      face,
      kits: await shelfKits(context),
      builds: await shelf.summaries(),
      openPath: context.askedPath(),
    }),
    'kit.open': async ({ path }) => {
      const kit = await openCheckedKit(path);
      if (!kit.ok) return kit;
      const { folder } = kit.value;
      shelve(settings, folder.path);
      return succeed({ path: folder.path, hash: folder.hash, kit: kit.value.kit }, kit.warnings);
    },
    'build.start': async ({ path, choices, startedFrom }) => {
      const kit = await openCheckedKit(path);
      if (!kit.ok) return kit;
      const chosen = chooseKit(kit.value.kit, choices);
      if (!chosen.ok) return chosen;
      shelve(settings, kit.value.folder.path);
      const session = await shelf.start(kit.value, chosen.value.choices, startedFrom, version);
      return viewOf(session);
    },
    'build.open': async ({ build }) => {
      const session = await shelf.session(build);
      if (session.ok) void explainAhead(context.engine, session.value);
      return viewOf(session);
    },
    'build.act': async ({ build, expectedSeq, action }) => {
      const session = await shelf.session(build);
      if (!session.ok) return { kind: 'problem', problems: session.problems };
      if (action.kind === 'accept-kit') return shelf.acceptKit(session.value, expectedSeq, action);
      const outcome = await session.value.act(expectedSeq, action);
      if (outcome.kind === 'done') void explainAhead(context.engine, session.value);
      // The bench is offered again for the next build.
      if (outcome.kind === 'done' && action.kind === 'bench-recorded') settings.set({ bench: action.bench });
      return outcome;
    },
    'photo.add': async (given) => {
      const session = await shelf.session(given.build);
      if (!session.ok) return { kind: 'problem', problems: session.problems };
      return addPhoto(session.value, given);
    },
    'paper.pages': async ({ paper }) => {
      const drawn = await drawnPaper({ shelf, version }, paper);
      return drawn.ok ? succeed(drawn.value.pages) : drawn;
    },
    'predict.condition': async ({ build, condition }) => {
      const session = await shelf.session(build);
      if (!session.ok) return session;
      context.tell({ kind: 'job', build, condition, progress: 0 });
      const expectation = await session.value.expect(condition);
      context.tell({ kind: 'job', build, condition, progress: 1 });
      return expectation;
    },
    'predict.together': async ({ build }) => {
      const session = await shelf.session(build);
      return session.ok ? await session.value.together('screen') : session;
    },
    'explain.readings': async ({ build, without }) => {
      const session = await shelf.session(build);
      return session.ok ? await explainReadings(context.engine, session.value, without) : session;
    },
    'predict.adjuster': ({ build, reading }) => answerAdjuster(context, build, reading),
    ...instrumentHandlers(context),
    'fit.valves': ({ subject, valves }) => answerFit(context, subject, valves),
    'service.start': ({ text }) => startService(context, text),
    'record.open': async ({ text }) => {
      const record = readRecord(text, sha256);
      return record.ok ? succeed(await viewOfRecord(record.value, record.warnings)) : record;
    },
    'settings.get': () => Promise.resolve(settings.get()),
    'settings.set': ({ settings: changes }) => Promise.resolve(settings.set(changes)),
  };
}

async function viewOfRecord(record: BuildRecord, warnings: readonly KitProblem[]): Promise<RecordView> {
  const { build, kit, together, question } = record;
  const { photos, flaws } = await soundPhotos(record);
  return {
    ...{ build, kit, photos, flaws: [...warnings.map(({ message }) => message), ...flaws] },
    ...(together === undefined ? {} : { together }),
    ...(question === undefined ? {} : { question }),
  };
}

function viewOf<View>(session: Result<{ readonly view: () => View }>): Result<View> {
  return session.ok ? succeed(session.value.view()) : session;
}

/** The kits that come with the app, then those opened before; a kit that is found twice counts once. */
async function shelfKits({ kitFolders, settings }: ServiceContext): Promise<readonly ShelfKit[]> {
  const paths = [...new Set([...kitFolders, ...settings.get().shelf])];
  const kits = await Promise.all(paths.map(shelfKit));
  return kits.filter(({ path }, index) => kits.findIndex((other) => other.path === path) === index);
}

async function shelfKit(path: string): Promise<ShelfKit> {
  const kit = await openKit(path);
  if (!kit.ok) {
    const name = path.split(/[\\/]/).at(-1) ?? path;
    return { path, id: name, name, revision: '', maker: '', about: '', problem: kit.problems[0].message };
  }
  const { id, name, revision, maker, about } = kit.value.kit;
  return { path: kit.value.folder.path, id, name, revision, maker, about, problem: null };
}

/** Most kits that the shelf remembers. */
const longestShelf = 30;

/** Puts a kit at the front of the shelf. */
function shelve(settings: SettingsPort, path: string): Settings {
  const { shelf } = settings.get();
  if (shelf[0] === path) return settings.get();
  return settings.set({ shelf: [path, ...shelf.filter((each) => each !== path)].slice(0, longestShelf) });
}
