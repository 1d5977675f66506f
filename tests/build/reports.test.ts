import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { countSpecs, countTests, failuresOf, repeatedOf } from '../../build/lib/reports.mjs';

const root = resolve(import.meta.dirname, '../..');

describe('what failed', () => {
  test('of unit tests is named by file and test, with the message without its colours', () => {
    const counts = countTests({
      numPassedTests: 1,
      numPendingTests: 0,
      numTodoTests: 0,
      testResults: [
        {
          name: join(root, 'tests/words/words.test.ts'),
          status: 'failed',
          message: '',
          assertionResults: [
            { status: 'passed', fullName: 'shares are per cents', failureMessages: [] },
            {
              status: 'failed',
              fullName: 'numbers are rounded',
              failureMessages: ['\u001b[31mexpected 1 to be 2\u001b[39m\n    at words.test.ts:3'],
            },
          ],
        },
        {
          name: join(root, 'tests/words/broken.test.ts'),
          status: 'failed',
          message: 'no such module',
          assertionResults: [],
        },
      ],
    });
    expect(counts).toMatchObject({ passed: 1, failed: 2, skipped: 0 });
    expect(failuresOf({ name: 'unit tests', counts, text: 'long' })).toEqual([
      'tests/words/words.test.ts › numbers are rounded\n    expected 1 to be 2\n        at words.test.ts:3',
      'tests/words/broken.test.ts\n    no such module',
    ]);
  });

  test('of specs is named too, apart from a spec that passed only when tried again', () => {
    const spec = (title: string, status: string, message: string) => ({
      file: 'rack.spec.ts',
      title,
      tests: [{ status, results: [{ errors: message === '' ? [] : [{ message }] }] }],
    });
    const counts = countSpecs({
      stats: { expected: 1, unexpected: 1, flaky: 1, skipped: 0 },
      suites: [
        {
          specs: [spec('is drawn', 'expected', '')],
          suites: [{ specs: [spec('is dragged', 'unexpected', 'no rack')] }],
        },
        { specs: [spec('is undone', 'flaky', 'too late')] },
      ],
    });
    expect(counts).toMatchObject({ passed: 2, failed: 1, skipped: 0 });
    expect(failuresOf({ name: 'e2e specs', counts, text: '' })).toEqual([
      'tests/e2e/rack.spec.ts › is dragged\n    no rack',
    ]);
    expect(repeatedOf({ counts })).toEqual(['tests/e2e/rack.spec.ts › is undone\n    too late']);
  });

  test('is the end of what a step said where its report names nothing', () => {
    const text = Array.from({ length: 30 }, (_, i) => `line ${i}`).join('\n');
    const [told = ''] = failuresOf({ name: 'lint', counts: { passed: 0, failed: 1 }, text });
    expect(told.split('\n')).toHaveLength(13);
    expect(told).toMatch(/^lint\n {4}line 18\n[^]* {4}line 29$/);
    expect(failuresOf({ name: 'lint', counts: { passed: 1, failed: 0 }, text })).toEqual([]);
  });
});
