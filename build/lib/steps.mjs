import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { needBrowser, needPdfTools } from './machine.mjs';
import { root, run, runBin } from './run.mjs';

const reports = join(root, 'node_modules', '.cache', 'evenrack', 'reports');

// A step of the checks is its name and a function that gives its counts.

/** A program that is content or not: one check. What it says comes in one piece when it has ended. */
const contentment = (name, start) => ({
  name,
  async run() {
    const { code, text } = await start({ capture: true });
    if (text) console.log(text.trimEnd());
    return code === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
  },
});

const tool = (name, bin, args) => contentment(name, (options) => runBin(bin, args, options));

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

/** What needs no step before it, the longest first, so that they end together side by side. */
export const staticChecks = sideBySide('format, lint, types, layers', [
  tool('types, shell and tests', 'tsc', ['-p', 'tsconfig.node.json']),
  tool('format', 'prettier', ['--check', '--log-level', 'warn', '.']),
  tool('lint', 'eslint', ['.', '--max-warnings', '0']),
  tool('types, renderer', 'tsc', ['-p', 'tsconfig.renderer.json']),
  tool('types, pure rooms', 'tsc', ['-p', 'tsconfig.pure.json']),
  contentment('layers', (options) => run(process.execPath, ['build/layers.mjs'], options)),
]);

/** The tests of one or more projects of vitest.config.ts. */
export const vitest = (...projects) =>
  tests(
    `${projects.join(' and ')} tests`,
    async (file) => {
      const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
      const wanted = projects.flatMap((project) => ['--project', project]);
      return (await runBin('vitest', ['run', ...wanted, ...reporters])).code;
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

/** One step of several that run at the same time, as many as the machine has processors. */
function sideBySide(name, steps) {
  return {
    name,
    async run() {
      const waiting = [...steps];
      const rows = [];
      const work = async () => {
        for (let step = waiting.shift(); step; step = waiting.shift()) rows.push(await timed(step));
      };
      await Promise.all(Array.from({ length: availableParallelism() }, work));
      return { ...total(rows), rows };
    },
  };
}

/** Runs the steps in order, all of them, and ends with the sum. Sets the exit code. */
export async function runSteps(steps) {
  const rows = [];
  for (const step of steps) {
    console.log(`\n== ${step.name}`);
    const row = await timed(step);
    rows.push(...(row.counts.rows ?? []), row);
  }
  const sum = total(rows.filter(({ counts }) => !counts.rows));
  console.log(`\n== summary\n${rows.map(line).join('\n')}\n`);
  console.log(say(sum));
  if (sum.failed > 0) process.exitCode = 1;
}

async function timed(step) {
  const started = performance.now();
  const counts = await step.run().catch((error) => {
    console.error(error instanceof Error ? error.message : error);
    return { passed: 0, failed: 1 };
  });
  return { name: step.name, counts, seconds: (performance.now() - started) / 1000 };
}

function total(rows) {
  const sum = { passed: 0, failed: 0, skipped: 0 };
  for (const { counts } of rows) for (const key of Object.keys(sum)) sum[key] += counts[key] ?? 0;
  return sum;
}

const line = ({ name, counts, seconds }) => `${say(counts)}  ${name} (${seconds.toFixed(1)} s)`;

function say({ passed, failed, skipped = 0 }) {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}
