import { homedir } from 'node:os';
import { dataFolder } from '../files/data-folder.ts';
import { ownKitFolders, ownRendererFolder } from '../files/kits-folder.ts';
import { systemClock } from '../services/clock.ts';
import { startHost } from './start-host.ts';

/** The host alone, without opening anything: `node build/node/host.js [DATA FOLDER]`. */
export async function main(argv: readonly string[]): Promise<void> {
  const surroundings = { env: process.env, platform: process.platform, home: homedir(), cwd: process.cwd() };
  const host = await startHost({
    dataFolder: dataFolder(argv[0], surroundings),
    clock: systemClock,
    port: 0,
    rendererFolder: ownRendererFolder(),
    kitFolders: ownKitFolders(),
    report: (error) => console.error(error),
  });
  console.log(host.url);
}
