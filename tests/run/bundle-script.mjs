import { join, resolve } from 'node:path';
import { build } from 'vite';
import { insideConditions, insidePackages } from '../../electron/bundle/entries.mjs';
import { root } from './child.mjs';

/**
 * Bundle a TypeScript program for Node into build/scripts.
 *
 * Sources in tests/<folder> and results in build/scripts both lie two folders below the root, so that
 * `new URL('../../kits/', import.meta.url)` means the same in both.
 *
 * @param {string} file Its source.
 * @returns {Promise<string>} The bundled file. Rejects with the bundler's message.
 */
export async function bundleScript(file) {
  // One result per source, named after its path, so that two scripts never share a file.
  const name = resolve(file).slice(root.length).replace(/\.ts$/, '').replaceAll(/[\\/]/g, '-');
  await build({
    configFile: false,
    root,
    logLevel: 'warn',
    publicDir: false,
    // As in the product.
    ssr: { noExternal: [...insidePackages], resolve: { conditions: [...insideConditions] } },
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
  return join(root, 'build/scripts', `${name}.js`);
}
