import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

/** Tests that have a runner, a budget or an environment of their own. */
const apart = [
  'tests/e2e/**',
  'tests/reference/**',
  'tests/study/**',
  'tests/bench/**',
  'tests/renderer/**',
  'node_modules/**',
];

export default defineConfig({
  test: {
    projects: [
      {
        plugins: [react()],
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: apart,
          // Only so is its import of `electron` replaced where a test stands in for the runtime.
          server: { deps: { inline: ['electron-store'] } },
          // Speed is measured by `npm run bench`: here a slow machine must not fail a test that computes.
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
