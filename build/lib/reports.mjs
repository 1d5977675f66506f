// What the reports of the test runners say: counts, and what failed by name and message.
import { relative } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { root } from './run.mjs';

/**
 * @typedef {{ name: string, message: string }} Failure
 * @typedef {{ passed: number, failed: number, skipped?: number, failures?: Failure[],
 *   repeated?: Failure[] }} Counts `repeated`: what passed, but not at its first try.
 */

/**
 * Counts of Vitest's JSON report. A file that broke before any of its tests ran has failed once.
 * @returns {Counts}
 */
export function countTests(report) {
  const failures = report.testResults.flatMap(({ name, status, message, assertionResults }) => {
    const file = relative(root, name);
    if (status === 'failed' && assertionResults.length === 0) return [{ name: file, message }];
    return assertionResults
      .filter((test) => test.status === 'failed')
      .map(({ fullName, failureMessages }) => ({
        name: `${file} › ${fullName}`,
        message: failureMessages.join('\n'),
      }));
  });
  return {
    passed: report.numPassedTests,
    failed: failures.length,
    skipped: report.numPendingTests + report.numTodoTests,
    failures,
  };
}

/**
 * Counts of Playwright's JSON report. A test that passed only when repeated has passed, and is named.
 * @returns {Counts}
 */
export function countSpecs(report) {
  const { stats, errors = [], suites = [] } = report;
  return {
    passed: stats.expected + stats.flaky,
    failed: stats.unexpected + errors.length,
    skipped: stats.skipped,
    failures: [
      ...suites.flatMap((suite) => specsOf(suite, 'unexpected')),
      ...errors.map(({ message }) => ({ name: 'outside every spec', message })),
    ],
    repeated: suites.flatMap((suite) => specsOf(suite, 'flaky')),
  };
}

/** @returns {Failure[]} */
function specsOf(suite, wanted) {
  const { specs = [], suites = [] } = suite;
  const own = specs.flatMap(({ file, title, tests }) =>
    tests
      .filter(({ status }) => status === wanted)
      .map(({ results }) => ({
        name: `tests/e2e/${file} › ${title}`,
        message: results.flatMap(({ errors }) => errors.map((error) => error.message)).join('\n'),
      })),
  );
  return [...own, ...suites.flatMap((one) => specsOf(one, wanted))];
}

/** The whole message stands where its step told it. */
const LINES = 12;

/**
 * What failed in a step, each with the first lines of its message. Where the step names less than
 * it counts, its last lines must do.
 * @param {{ name: string, counts: Counts, text: string }} row
 * @returns {string[]}
 */
export function failuresOf({ name, counts, text }) {
  const { failed, failures = [] } = counts;
  const told = failures.map(tell);
  if (told.length < failed) told.push([name, ...linesOf(text).slice(-LINES)].join('\n    '));
  return told;
}

/**
 * What a step had to try again, told as failures are.
 * @param {{ counts: Counts }} row
 * @returns {string[]}
 */
export const repeatedOf = ({ counts }) => (counts.repeated ?? []).map(tell);

const tell = ({ name, message }) => [name, ...linesOf(message).slice(0, LINES)].join('\n    ');

const linesOf = (text) => stripVTControlCharacters(text).trim().split('\n');
