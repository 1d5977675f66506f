import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { needBrowser, needPdfTools } from './machine.mjs';
import { countTests, failuresOf, repeatedOf } from './reports.mjs';
import { root, run, runBin } from './run.mjs';

const cache = join(root, 'node_modules', '.cache', 'evenrack');
const reports = join(cache, 'reports');

// A step of the checks is its name and a function that gives its counts and what is to be said.
// Several may run at the same time, so what one says comes in one piece.

/** A program that is content or not: one check. */
export const contentment = (name, start) => ({
  name,
  async run() {
    const { code, text } = await start({ capture: true });
    return code === 0 ? { passed: 1, failed: 0, text } : { passed: 0, failed: 1, text };
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
    const { code, text } = await start(file);
    let counts;
    try {
      counts = count(JSON.parse(readFileSync(file, 'utf8')));
    } catch {
      return { passed: 0, failed: 1, text };
    }
    // Errors outside every test, and a run in which no test was found.
    if (code !== 0 && counts.failed === 0) return { ...counts, failed: 1, text };
    return { ...counts, text };
  },
});

/** Some tests print to PDF; what they need from the machine is got before, and is no check itself. */
export const machineStep = {
  name: 'browser and PDF tools',
  async run() {
    process.env.EVENRACK_BROWSER = await needBrowser();
    await needPdfTools();
    return { passed: 0, failed: 0, text: process.env.EVENRACK_BROWSER };
  },
};

/** What needs no step before it. */
export const staticChecks = [
  tool('lint', 'oxlint', []),
  tool('types, shell and tests', 'tsc', ['-p', 'tsconfig.node.json']),
  tool('format', 'oxfmt', ['--check', '.']),
  tool('types, renderer', 'tsc', ['-p', 'tsconfig.renderer.json']),
  tool('types, pure rooms', 'tsc', ['-p', 'tsconfig.pure.json']),
  contentment('layers', (options) => run(process.execPath, ['build/layers.mjs'], options)),
];

/** The tests of some projects of vitest.config.ts, on all processors: they share what they import. */
export const vitest = (...projects) =>
  tests(
    `${projects.join(', ')} tests`,
    (file) => {
      const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
      const chosen = projects.flatMap((project) => ['--project', project]);
      return runBin('vitest', ['run', ...chosen, ...reporters], { capture: true });
    },
    countTests,
  );

/**
 * Runs groups of steps one after another, the steps of a group in their order, as many at the same
 * time as the machine has processors; a step that keeps them all busy is a group by itself. Runs
 * them all and ends with what failed and the sum; sets the exit code.
 */
export async function runSteps(...groups) {
  const rows = new Map();
  for (const steps of groups) {
    const waiting = [...steps];
    const work = async () => {
      for (let step = waiting.shift(); step; step = waiting.shift()) {
        const row = await timed(step);
        rows.set(step, row);
        console.log(`\n== ${line(row)}\n${row.text.trimEnd()}`);
      }
    };
    await Promise.all(Array.from({ length: availableParallelism() }, work));
  }
  const inOrder = groups.flat().map((step) => rows.get(step));
  under('passed only when tried again', inOrder.flatMap(repeatedOf));
  under('failed', inOrder.flatMap(failuresOf));
  console.log(`\n== summary\n${inOrder.map(line).join('\n')}\n`);
  const sum = total(inOrder);
  console.log(say(sum));
  if (sum.failed > 0) process.exitCode = 1;
}

function under(heading, lines) {
  if (lines.length > 0) console.log(`\n== ${heading}\n${lines.join('\n')}`);
}

async function timed(step) {
  const started = performance.now();
  const { text = '', ...counts } = await step.run().catch((error) => ({
    passed: 0,
    failed: 1,
    text: String(error instanceof Error ? error.message : error),
  }));
  return { name: step.name, counts, text, seconds: (performance.now() - started) / 1000 };
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
