import { defineConfig } from 'vitest/config';

const notUnit = ['tests/reference/**', 'tests/e2e/**', 'tests/bench/**'];
const slow = 'tests/**/*.slow.test.{ts,tsx}';
// These touch processes or globals, or put spies into modules.
const isolated = [
  'tests/{host,layers,store}/**/*.test.{ts,tsx}',
  'tests/electron/*.test.ts',
  'tests/**/*.isolated.test.ts',
];

// Everything but the e2e suite runs under Node without a DOM: the engine, the document and the
// derivations must not need one.
export default defineConfig({
  test: {
    pool: 'threads',
    environment: 'node',
    // Left to itself the runner keeps one processor free: half of a small machine.
    maxWorkers: '100%',
    // Generous, so that a busy machine is no failure.
    testTimeout: 120_000,
    hookTimeout: 60_000,
    setupFiles: ['tests/setup/failOnConsole.ts'],
    // Files share what they have imported, which takes longer than most of their tests.
    isolate: false,
    // So that no file's environment is another's.
    unstubEnvs: true,
    unstubGlobals: true,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [slow, ...isolated, ...notUnit],
        },
      },
      {
        extends: true,
        test: { name: 'unit-isolated', include: isolated, exclude: [slow], isolate: true },
      },
      {
        extends: true,
        test: { name: 'unit-slow', include: [slow] },
      },
      {
        extends: true,
        test: {
          name: 'reference',
          include: ['tests/reference/**/*.test.ts'],
          testTimeout: 120_000,
        },
      },
    ],
  },
});
