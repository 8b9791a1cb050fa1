/**
 * `npm run build`: everything, or the parts named (`node`, `preload`, `renderer`).
 */
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
/** @type {import('./bundle.mjs').BundlePart[]} */
const all = ['node', 'preload', 'renderer'];
const named = process.argv.slice(2);
const unknown = named.filter((name) => !all.some((part) => part === name));

if (unknown.length > 0) {
  console.error(`There is no part ${unknown.join(', ')}; the parts are ${all.join(', ')}.`);
  process.exitCode = 2;
} else {
  for (const part of all.filter((name) => named.length === 0 || named.includes(name))) {
    const started = performance.now();
    try {
      const absent = await bundle(root, part);
      if (absent.length > 0) console.log(`build ${part}: not written yet, left out: ${absent.join(', ')}`);
      console.log(`build ${part}: ${((performance.now() - started) / 1000).toFixed(1)} s`);
    } catch (error) {
      console.error(error instanceof Error ? error.message : error);
      process.exitCode = 1;
    }
  }
}
