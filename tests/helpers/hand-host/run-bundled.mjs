/**
 * Runs the bundled host program of the end-to-end tests; `bundleScript` made it before the first test.
 */
const program = await import(
  new URL('../../../build/scripts/tests-helpers-hand-host-main.js', import.meta.url).href
);
await program.main(process.argv.slice(2));
