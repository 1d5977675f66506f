import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import type { TestSpecification } from 'vitest/node';

const notUnit = ['tests/reference/**', 'tests/e2e/**', 'tests/bench/**'];
const oneThread = ['--single-threaded', '--min-semi-space-size=16'];
const slow = 'tests/**/*.slow.test.{ts,tsx}';
// These touch processes or globals, put spies into modules, or import CommonJS by its names.
const isolated = [
  'tests/{host,layers,store}/**/*.test.{ts,tsx}',
  'tests/electron/!(*.slow).test.ts',
  'tests/**/*.isolated.test.ts',
];

/** Slow files first, so that all workers are busy to the end. */
class SlowFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isSlow = ({ moduleId }: TestSpecification): boolean => moduleId.includes('.slow.test.');
    const sorted = await super.sort(files);
    return [...sorted.filter(isSlow), ...sorted.filter((file) => !isSlow(file))];
  }
}

// Everything but the e2e suite runs under Node without a DOM: the engine, the document and the
// derivations must not need one.
export default defineConfig({
  test: {
    pool: 'forks',
    // On one thread each: as many files run at once as there are processors. Room for young objects saves
    // collecting them again and again.
    execArgv: [...oneThread, '--import', './tests/setup/native.mjs'],
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
    experimental: { viteModuleRunner: false, nodeLoader: false },
    // The runner's own note of an import that came as its process ended; no error of a test.
    onUnhandledError: ({ name, message }) =>
      !(name === 'EnvironmentTeardownError' && message.includes('ensureModuleGraphEntry')),
    sequence: { sequencer: SlowFirst },
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
        test: {
          name: 'unit-isolated',
          include: isolated,
          exclude: [slow],
          isolate: true,
          execArgv: oneThread,
          experimental: {
            viteModuleRunner: true,
            // Files share what has been compiled.
            fsModuleCache: true,
            fsModuleCachePath: 'node_modules/.cache/evenrack/modules',
          },
        },
      },
      {
        extends: true,
        test: { name: 'unit-slow', include: [slow] },
      },
      {
        extends: true,
        test: { name: 'reference', include: ['tests/reference/**/*.test.ts'] },
      },
      {
        // All that can share a process: what several projects import is imported but once.
        extends: true,
        test: {
          name: 'shared',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [...isolated, 'tests/e2e/**', 'tests/bench/**'],
        },
      },
    ],
  },
});
