import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { needBrowser, needPdfTools } from './machine.mjs';
import { root, run, runBin } from './run.mjs';

const reports = join(root, 'node_modules', '.cache', 'evenrack', 'reports');

// A step of the checks is its name and a function that gives its counts.

/** A program that is content or not: one check. */
const contentment = (name, start) => ({
  name,
  async run() {
    const { code } = await start();
    return code === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
  },
});

const tool = (name, bin, args) => contentment(name, () => runBin(bin, args));

/** Tests whose runner writes a JSON report; a runner that fails without a report has failed once. */
export const tests = (name, start, count) => ({
  name,
  async run() {
    mkdirSync(reports, { recursive: true });
    const file = join(reports, `${name.replaceAll(' ', '-')}.json`);
    rmSync(file, { force: true });
    const code = await start(file);
    let counts;
    try {
      counts = count(JSON.parse(readFileSync(file, 'utf8')));
    } catch {
      return { passed: 0, failed: 1 };
    }
    // Errors outside every test, and a run in which no test was found.
    if (code !== 0 && counts.failed === 0) return { ...counts, failed: 1 };
    return counts;
  },
});

/** Some tests print to PDF; what they need from the machine is got before, and is no check itself. */
export const machineStep = {
  name: 'browser and PDF tools',
  async run() {
    process.env.EVENRACK_BROWSER = await needBrowser();
    await needPdfTools();
    console.log(process.env.EVENRACK_BROWSER);
    return { passed: 0, failed: 0 };
  },
};

export const staticSteps = [
  tool('format', 'prettier', ['--check', '--log-level', 'warn', '.']),
  tool('lint', 'eslint', ['.', '--max-warnings', '0']),
  tool('types, pure rooms', 'tsc', ['-p', 'tsconfig.pure.json']),
  tool('types, renderer', 'tsc', ['-p', 'tsconfig.renderer.json']),
  tool('types, shell and tests', 'tsc', ['-p', 'tsconfig.node.json']),
  contentment('layers', () => run(process.execPath, ['build/layers.mjs'])),
];

export const vitest = (project) =>
  tests(
    `${project} tests`,
    async (file) => {
      const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
      return (await runBin('vitest', ['run', '--project', project, ...reporters])).code;
    },
    (report) => ({
      passed: report.numPassedTests,
      failed: report.numFailedTests + failedFiles(report),
      skipped: report.numPendingTests + report.numTodoTests,
    }),
  );

/** Test files that broke before any of their tests ran. */
function failedFiles(report) {
  return report.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.length === 0,
  ).length;
}

/** Runs the steps in order, all of them, and ends with the sum. Sets the exit code. */
export async function runSteps(steps) {
  const sum = { passed: 0, failed: 0, skipped: 0 };
  const rows = [];
  for (const step of steps) {
    console.log(`\n== ${step.name}`);
    const started = performance.now();
    const counts = await step.run().catch((error) => {
      console.error(error instanceof Error ? error.message : error);
      return { passed: 0, failed: 1 };
    });
    const seconds = ((performance.now() - started) / 1000).toFixed(1);
    for (const key of Object.keys(sum)) sum[key] += counts[key] ?? 0;
    rows.push(`${say(counts)}  ${step.name} (${seconds} s)`);
  }
  console.log(`\n== summary\n${rows.join('\n')}\n`);
  console.log(say(sum));
  if (sum.failed > 0) process.exitCode = 1;
}

function say({ passed, failed, skipped = 0 }) {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}
