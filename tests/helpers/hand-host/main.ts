import { createEngine } from '../../../electron/engine-worker/engine.ts';
import { threadWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import { ownKitFolders, ownRendererFolder } from '../../../electron/files/kits-folder.ts';
import { startHost } from '../../../electron/host/start-host.ts';
import type { HostAnswer, HostCommand, HostStart } from './messages.ts';

/** Longest time between two heartbeats while time passes, in milliseconds (ms): less than a missed one. */
const strideMs = 4000;

/**
 * The real host in a process of its own, with clocks that stand still until the test moves them.
 *
 * Bundled into build/scripts: the engine's thread is the built one of build/node.
 */
export async function main([given = '']: readonly string[]): Promise<void> {
  const { dataFolder, startAt } = JSON.parse(given) as HostStart;
  let wall = Date.parse(startAt);
  let tick = 1000;
  const tell = (answer: HostAnswer): void => void process.send?.(answer);
  const host = await startHost({
    dataFolder,
    clock: { now: () => ({ at: new Date(wall).toISOString(), tick }) },
    port: 0,
    rendererFolder: ownRendererFolder(),
    kitFolders: ownKitFolders(),
    engine: createEngine(threadWorkplace(new URL('../node/engine-worker.js', import.meta.url))),
    report: (error) => tell({ kind: 'fault', message: String(error) }),
  });
  const pass = async (milliseconds: number): Promise<void> => {
    for (let left = milliseconds; left > 0; left -= strideMs) {
      wall += Math.min(left, strideMs);
      tick += Math.min(left, strideMs);
      await host.beat();
    }
  };
  const obey = async (command: HostCommand): Promise<void> => {
    if (command.kind === 'pass') await pass(command.milliseconds);
    if (command.kind === 'jump') {
      wall += command.milliseconds;
      await host.beat();
    }
    if (command.kind === 'close') await host.close();
    tell({ kind: 'done', id: command.id, at: new Date(wall).toISOString() });
  };
  let orders: Promise<void> = Promise.resolve();
  process.on('message', (command) => {
    orders = orders
      .then(() => obey(command as HostCommand))
      .catch((error: unknown) => tell({ kind: 'fault', message: String(error) }));
  });
  // A test that is gone needs no host.
  process.on('disconnect', () => process.exit(0));
  tell({ kind: 'ready', url: host.url, port: host.port, token: host.token });
}
