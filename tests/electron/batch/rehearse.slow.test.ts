import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { rehearseVerb } from '../../../electron/batch/verbs/rehearse';
import { writePlan } from '../../../renderer/document/open';
import type { RehearsalReport } from '../../../renderer/engine/trial';
import type { Plan } from '../../../shared-types/plan';
import { undrawn } from '../../builders/examplePlans';
import { tempFolder } from '../tempFolder';

async function call(plan: Plan, options: Record<string, string>) {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan(plan));
  let [out, err] = ['', ''];
  const words = Object.entries(options).map(([name, value]) => `--${name}=${value}`);
  const code = await runBatch(['rehearse', path, ...words], [rehearseVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err: err.replace(path, 'plan.json') };
}

const usual = { effect: '{}', runs: '6', seed: 'x' };

test('factors come first, then interactions, and the same seed gives the same result', async () => {
  const plan = undrawn('basil');
  const effect = JSON.stringify({
    feed: 5,
    cultivar: { [plan.trial.factors[1]?.levels[0]?.name ?? '']: 3 },
    'feed × cultivar': 6,
  });
  const first = await call(plan, { ...usual, effect });
  expect(first).toMatchObject({ code: 0, err: '' });
  expect(await call(plan, { ...usual, effect })).toEqual(first);
  expect((await call(plan, { ...usual, effect, seed: 'y' })).out).not.toBe(first.out);
  const report = JSON.parse(first.out) as RehearsalReport & { model: unknown };
  expect(report.runs).toBe(6);
  expect(report.factors.map((factor) => factor.name)).toEqual(['feed', 'cultivar']);
  expect(report.interactions.map((term) => term.name)).toEqual(['feed × cultivar']);
  for (const { power, falseAlarm } of [...report.factors, ...report.interactions]) {
    for (const rate of [power, falseAlarm]) {
      const { share, se } = rate ?? { share: NaN, se: NaN };
      expect(se).toBeCloseTo(Math.sqrt((share * (1 - share)) / 6), 12);
    }
  }
  // The plan's expectations, and the correlation that was taken for want of one stated.
  expect(report.model).toMatchObject({ plantSd: 4, traySd: 1, startCorrelation: 0.5 });
});

test('a spread between units that nobody said is assumed, never zero, and named', async () => {
  const plan = undrawn('basil');
  const { expected } = plan.trial;
  if (!expected) throw new Error('basil says what it expects');
  const asked = async (unitSd: number | null, options = {}) => {
    const trial = { ...plan.trial, expected: { ...expected, unitSd } };
    const { out } = await call({ ...plan, trial }, { ...usual, runs: '1', ...options });
    return JSON.parse(out) as unknown;
  };
  expect(await asked(null)).toMatchObject({
    model: { plantSd: 4, traySd: 1.2, shelfSd: 2 },
    assumed: ['traySd', 'shelfSd'],
  });
  expect(await asked(null, { model: '{"traySd":0}' })).toMatchObject({
    model: { traySd: 0, shelfSd: 2 },
    assumed: ['shelfSd'],
  });
  expect(await asked(0)).toMatchObject({ model: { traySd: 0, shelfSd: 0 }, assumed: [] });
});

test('one shelf a lamp has no test, and says what a mistaken one would claim', async () => {
  const { code, out } = await call(undrawn('two-lamps'), { ...usual, runs: '200' });
  expect(code).toBe(0);
  const [lamp] = (JSON.parse(out) as RehearsalReport).factors;
  expect(lamp).toMatchObject({ name: 'lamp', power: null, falseAlarm: null });
  expect(lamp?.potsAsUnits?.falseAlarm.share).toBeGreaterThan(0.3);
  expect(lamp?.says).toMatch(/lamp cannot be tested.*would cry a difference.*in \d+ % of trials/);
});

const whole = 'a whole number from 1 to 100000 is expected';
test.each([
  [{ runs: '0' }, `--runs: found 0; ${whole}`],
  [{ runs: '-5' }, `--runs: found -5; ${whole}`],
  [{ runs: 'NaN' }, `--runs: found NaN; ${whole}`],
  [{ runs: '2.5' }, `--runs: found 2.5; ${whole}`],
  [{ runs: '1e3' }, `--runs: found 1e3; ${whole}`],
  [{ runs: '9'.repeat(40) }, `--runs: found ${'9'.repeat(40)}; ${whole}`],
  [{ effect: '{' }, '--effect, line 1, column 2: found the end of the file; expected '],
  [{ effect: 'feed=5' }, '--effect, line 1, column 1: found '],
  [{ effect: '[1]' }, '--effect: found a list of 1; expected '],
  [{ effect: 'null' }, '--effect: found null; expected '],
  [{ effect: '{"feed":"5"}' }, '--effect, feed: found "5"; expected '],
  [{ effect: '{"feed":1e999}' }, '--effect, feed: found a number that is not finite; expected '],
  [{ effect: '{"fed":5}' }, '--effect, fed: no such factor; expected one of feed, cultivar'],
  [{ effect: '{"feed":{"x":5}}' }, '--effect, feed.x: no such level; expected one of '],
  [{ effect: '{"feed × soil":5}' }, '--effect, feed × soil: no such factor; expected one of feed'],
  [{ effect: '{"feed × cultivar":{}}' }, '--effect, feed × cultivar: found shifts of levels; '],
  [{ effect: '{"feed × feed":5}' }, 'rehearsal effect of feed × feed: 2 factors were found; '],
  [{ model: '{"plantSd":-1}' }, '--model, plantSd: found -1; expected '],
  [{ model: '{"deadShare":1}' }, '--model, deadShare: found 1; expected '],
  [{ model: '{"startCorrelation":2}' }, '--model, startCorrelation: found 2; expected '],
  [{ model: '{"spread":1}' }, '--model'],
])('bad input %j: exit code 2 and one line', async (options, says) => {
  const { code, out, err } = await call(undrawn('basil'), { ...usual, ...options });
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err.slice(0, says.length)).toBe(says);
  expect(err.match(/\n/g)).toHaveLength(1);
});

test('a plan without a trial, factor or spread is refused', async () => {
  const plan = undrawn('basil');
  const refused = async (trial: Plan['trial']) => (await call({ ...plan, trial }, usual)).err;
  expect(await refused(null)).toBe(
    'plan.json, trial: no trial is planned; a trial with a factor is expected\n',
  );
  expect(await refused({ ...plan.trial, factors: [] })).toContain('trial: nothing is compared');
  expect(await refused({ ...plan.trial, expected: null })).toBe(
    'plan.json, trial.expected: the plan expects no spread and --model gives no plantSd; one of them is expected\n',
  );
});
