import module from 'node:module';
import { fileURLToPath } from 'node:url';

/**
 * Keep what Node has compiled beside the build, for the next start: of this process and of those it starts.
 *
 * It lies with the build, not in a folder for everybody's temporary files. Node takes from it only what matches
 * the source and its own version. Before Node 22.1 there is no such thing, and nothing happens.
 */
export function keepCompiled() {
  const folder = fileURLToPath(new URL('../../build/compiled', import.meta.url));
  process.env['NODE_COMPILE_CACHE'] ??= folder;
  module.enableCompileCache?.(process.env['NODE_COMPILE_CACHE']);
}
