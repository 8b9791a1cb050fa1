/**
 * Run a TypeScript program: `node tests/run/script.mjs FILE [ARGUMENT …]`.
 *
 * The file is bundled into build/scripts and its `main(arguments)` called; what that returns becomes the exit
 * code. Bundled, not interpreted, so that measured times are those of the product.
 */
import { existsSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { root } from './child.mjs';

const [file, ...args] = process.argv.slice(2);
if (!file || !existsSync(file)) {
  console.error(file ? `${file} does not exist yet.` : 'Usage: node tests/run/script.mjs FILE [ARGUMENT …]');
  process.exit(2);
}
// One result per source, named after its path, so that two scripts never share a file.
const name = resolve(file).slice(root.length).replace(/\.ts$/, '').replaceAll(/[\\/]/g, '-');
await build({
  configFile: false,
  root,
  logLevel: 'warn',
  publicDir: false,
  build: {
    ssr: true,
    target: 'node20.19',
    outDir: 'build/scripts',
    emptyOutDir: false,
    minify: false,
    sourcemap: true,
    rolldownOptions: {
      input: { [name]: resolve(file) },
      output: { format: 'es', entryFileNames: '[name].js', codeSplitting: false },
    },
  },
});
const program = await import(pathToFileURL(join(root, 'build/scripts', `${name}.js`)).href);
if (typeof program.main !== 'function') {
  console.error(`${basename(file)} exports no main(arguments).`);
  process.exit(2);
}
process.exitCode = (await program.main(args)) ?? 0;
