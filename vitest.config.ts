import { defineConfig } from 'vitest/config';

// Everything but the e2e suite runs under Node without a DOM: the engine, the document and the
// derivations must not need one.
export default defineConfig({
  test: {
    pool: 'threads',
    setupFiles: ['tests/setup/fail-on-console.ts'],
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          environment: 'node',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/reference/**', 'tests/e2e/**', 'tests/bench/**'],
          testTimeout: 30_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'reference',
          environment: 'node',
          include: ['tests/reference/**/*.test.ts'],
          testTimeout: 120_000,
        },
      },
    ],
  },
});
