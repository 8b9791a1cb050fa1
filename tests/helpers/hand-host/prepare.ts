import { fileURLToPath } from 'node:url';
import { ensureBuild } from '../../../electron/bundle/ensure-build.mjs';
import { bundleScript } from '../../run/bundle-script.mjs';

/** Before the first end-to-end test: the app and the tests' host program are built. The runner takes the default export. */
export default async function prepare(): Promise<void> {
  const built = await ensureBuild('start', { whole: true, whenStale: true });
  if (!built.ok) throw new Error(built.message);
  await bundleScript(fileURLToPath(new URL('main.ts', import.meta.url)));
}
