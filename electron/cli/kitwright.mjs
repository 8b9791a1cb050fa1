#!/usr/bin/env node
/**
 * The command `kitwright`: runs the built command line, building it once where that was not done yet.
 *
 * Exit code 2 means "could not do it", here as everywhere.
 */
import { pathToFileURL } from 'node:url';
import { keepCompiled } from '../bundle/compile-cache.mjs';
import { ensureBuild } from '../bundle/ensure-build.mjs';

keepCompiled();
const built = await ensureBuild('cli');
if (built.ok) {
  const { main } = await import(pathToFileURL(built.path).href);
  process.exitCode = await main(process.argv.slice(2));
} else {
  console.error(built.message);
  process.exitCode = 2;
}
