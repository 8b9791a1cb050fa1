/**
 * `npm start`: brings the build up to date, then opens Kitwright.
 */
import { pathToFileURL } from 'node:url';
import { keepCompiled } from '../bundle/compile-cache.mjs';
import { ensureBuild } from '../bundle/ensure-build.mjs';

keepCompiled();
const built = await ensureBuild('start', { whole: true, whenStale: true });
if (built.ok) {
  const { main } = await import(pathToFileURL(built.path).href);
  process.exitCode = await main(process.argv.slice(2));
} else {
  console.error(built.message);
  process.exitCode = 2;
}
