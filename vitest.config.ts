import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

/** Tests that replace a module (`vi.mock`): each of their files needs a world of its own. */
const mocked = ['tests/electron/main/**'];

/** Tests that have a runner, a budget or an environment of their own. */
const apart = [
  ...mocked,
  'tests/e2e/**',
  'tests/reference/**',
  'tests/study/**',
  'tests/bench/**',
  'tests/renderer/**',
  'node_modules/**',
];

/**
 * Files that share a worker share its modules: loading them anew for each file took as long as the tests. What
 * a test puts in place of the real thing is taken away after it, so that no file finds another's.
 */
const shared = { isolate: false, restoreMocks: true, unstubGlobals: true, unstubEnvs: true };

// Speed is measured by `npm run bench`: a slow machine must not fail a test that computes, hence the long times.
export default defineConfig({
  test: {
    // Every core: nothing but the tests runs meanwhile. The default leaves one idle, on two cores half of them.
    maxWorkers: '100%',
    projects: [
      {
        plugins: [react()],
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: apart,
          ...shared,
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'window',
          include: mocked.map((folder) => `${folder}/*.test.ts`),
          // Only so is its import of `electron` replaced where a test stands in for the runtime.
          server: { deps: { inline: ['electron-store'] } },
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        plugins: [react()],
        test: {
          name: 'renderer',
          include: ['tests/renderer/**/*.test.{ts,tsx}'],
          environment: 'happy-dom',
          ...shared,
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'reference',
          include: ['tests/{reference,study}/**/*.test.ts'],
          // The simulator is one WASM instance that loads in about half a second and solves for seconds.
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
