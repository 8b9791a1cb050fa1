import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { BuildView } from '../../shared-core/contract/calls.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { blobHandlers } from './blob-handlers.ts';
import { callHandlers } from './call-handlers.ts';
import { openCheckedKit } from './open-kit.ts';
import type { PracticeRoom } from './practice-room.ts';
import type { BlobHandlers, CallHandlers, ServiceContext } from './service-context.ts';

/**
 * All calls, with those about a practice power-up going to the practice room.
 *
 * Only looking, acting and predicting go there. For everything else, photos, papers, exports, a practice is no build
 * and is refused by name.
 */
export function callsWithPractice(context: ServiceContext, room: PracticeRoom): CallHandlers {
  const plain = callHandlers(context);
  const inside = callHandlers({ ...context, shelf: room.shelf });
  const marked = (view: BuildView): BuildView => ({ ...view, practice: { skippedMs: room.skippedMs } });
  const markedResult = (view: Result<BuildView>): Result<BuildView> =>
    view.ok ? { ...view, value: marked(view.value) } : view;
  return {
    ...plain,
    'build.open': async (given) =>
      room.has(given.build) ? markedResult(await inside['build.open'](given)) : plain['build.open'](given),
    'build.act': async (given) => {
      if (!room.has(given.build)) return plain['build.act'](given);
      const outcome = await inside['build.act'](given);
      return outcome.kind === 'problem' ? outcome : { ...outcome, view: marked(outcome.view) };
    },
    'predict.condition': (given) => (room.has(given.build) ? inside : plain)['predict.condition'](given),
    'predict.together': (given) => (room.has(given.build) ? inside : plain)['predict.together'](given),
    'predict.adjuster': (given) => (room.has(given.build) ? inside : plain)['predict.adjuster'](given),
    'explain.readings': (given) => (room.has(given.build) ? inside : plain)['explain.readings'](given),
    'practice.start': async ({ path, choices }) => {
      const kit = await openCheckedKit(path);
      if (!kit.ok) return kit;
      const chosen = chooseKit(kit.value.kit, choices);
      if (!chosen.ok) return chosen;
      const started = await room.shelf.start(kit.value, chosen.value.choices, 'assembled', context.version);
      return started.ok ? markedResult(succeed(started.value.view())) : started;
    },
    'practice.skip': async ({ build, seconds }) => {
      const session = await room.shelf.session(build);
      if (!session.ok) return session;
      room.skip(seconds);
      return markedResult(succeed(session.value.view()));
    },
    'practice.meter': async ({ build, at }) => {
      const session = await room.shelf.session(build);
      if (!session.ok) return session;
      return at.kind === 'reading' ? room.reading(session.value, at.id) : room.store(session.value, at.id);
    },
  };
}

/** All blobs; of a practice power-up only the kit's pictures. */
export function blobsWithPractice(context: ServiceContext, room: PracticeRoom): BlobHandlers {
  const plain = blobHandlers(context);
  const inside = blobHandlers({ ...context, shelf: room.shelf });
  return {
    ...plain,
    picture: (given) => (room.has(given.build) ? inside : plain).picture(given),
  };
}
