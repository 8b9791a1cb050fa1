/**
 * Run a TypeScript program: `node tests/run/script.mjs FILE [ARGUMENT …]`.
 *
 * The file is bundled into build/scripts and its `main(arguments)` called; what that returns becomes the exit
 * code. Bundled, not interpreted, so that measured times are those of the product.
 */
import { existsSync } from 'node:fs';
import { basename } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundleScript } from './bundle-script.mjs';

const [file, ...args] = process.argv.slice(2);
if (!file || !existsSync(file)) {
  console.error(file ? `${file} does not exist yet.` : 'Usage: node tests/run/script.mjs FILE [ARGUMENT …]');
  process.exit(2);
}
const bundled = await bundleScript(file);
const program = await import(pathToFileURL(bundled).href);
if (typeof program.main !== 'function') {
  console.error(`${basename(file)} exports no main(arguments).`);
  process.exit(2);
}
process.exitCode = (await program.main(args)) ?? 0;
