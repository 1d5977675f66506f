import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { drawVerb } from '../../../electron/batch/verbs/draw';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { floodVerb } from '../../../electron/batch/verbs/flood';
import { lightVerb } from '../../../electron/batch/verbs/light';
import { printVerb } from '../../../electron/batch/verbs/print';
import { runBatch } from '../../../electron/batch/run';
import { planRuns } from '../../../renderer/document/commands';
import { writeCompact } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { fourShelves } from '../../builders/fourShelves';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';
import { twoRuns } from '../../builders/twoRuns';
import { tempFolder } from '../tempFolder';

const verbs = [checkVerb, drawVerb, findingsVerb, floodVerb, lightVerb, printVerb];

async function call(path: string, ...words: string[]) {
  let [out, err] = ['', ''];
  const [verb = '', ...rest] = words;
  const code = await runBatch([verb, path, ...rest], verbs, {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err: err.replace(path, 'PLAN') };
}

async function fileOf(plan: Plan): Promise<string> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writeCompact(plan));
  return path;
}

describe('the run that a verb is asked for', () => {
  let path = '';
  beforeEach(async () => {
    path = await fileOf(twoRuns());
  });

  it('is the last unless it is said, and the result names it', async () => {
    for (const [words, number] of [
      [[], 2],
      [['--run', '1'], 1],
      [['--run', '2'], 2],
    ] as const) {
      const light = await call(path, 'light', ...words);
      expect(light).toMatchObject({ code: 0, err: '' });
      expect(JSON.parse(light.out)).toMatchObject({ run: number });
    }
    const folder = join(await tempFolder(), 'pages');
    const pages = ['print', '--run', '1', '--what', 'rack-chart', '--out', folder];
    const printed = await call(path, ...pages);
    expect(printed.code).toBe(0);
    expect(JSON.parse(printed.out)).toMatchObject({ run: 1, seed: 'seven herons' });
  });

  it('is refused in one line where the trial has no such run', async () => {
    for (const verb of ['light', 'flood', 'findings']) {
      for (const number of ['0', '3', 'two', '1.5', '-1']) {
        const { code, out, err } = await call(path, verb, `--run=${number}`);
        expect({ code, out }).toEqual({ code: 2, out: '' });
        expect(err).toBe(`--run: found ${number}; expected a whole number from 1 to 2\n`);
      }
    }
    const once = await fileOf(drawnPlan());
    expect((await call(once, 'draw', '--seed', 'a', '--run', '2')).err).toBe(
      '--run: found 2; expected 1, for the plan has a single run\n',
    );
    const only = await call(once, 'light', '--run', '1');
    expect(only.code).toBe(0);
    expect(JSON.parse(only.out)).not.toHaveProperty('run');
  });
});

describe('a draw of a swapped run whose first run is not drawn', () => {
  it('draws that first under the same seed, and takes the other level on every shelf', async () => {
    const four = fourShelves();
    const light = four.trial.factors.find(({ name }) => name === 'light');
    const args = { runs: 2, swappedFactorId: light?.id ?? '' };
    const path = await fileOf(run(four, planRuns, args));
    const levels = async (number: string) => {
      const drawn = await call(path, 'draw', '--seed', 'herons', '--run', number);
      expect(drawn).toMatchObject({ code: 0, err: '' });
      const { pots, seed } = JSON.parse(drawn.out) as {
        pots: Record<string, string>[];
        seed: string;
      };
      expect(seed).toBe(number === '1' ? 'herons' : 'herons, Run 2');
      return pots.map((pot) => pot['light']);
    };
    const [first, second] = [await levels('1'), await levels('2')];
    expect(new Set(first)).toEqual(new Set(light?.levels.map(({ name }) => name)));
    expect(second).toHaveLength(first.length);
    for (const [i, level] of second.entries()) expect(level).not.toBe(first[i]);
  });
});

describe('the check of a plan', () => {
  it('gives the notices of all its runs, and names the run', async () => {
    const plan = twoRuns();
    const path = await fileOf({ ...plan, layout: null });
    const { notices } = JSON.parse((await call(path, 'check')).out) as {
      notices: { kind: string; text: string }[];
    };
    const missing = notices.filter(({ kind }) => kind === 'layout-missing');
    expect(missing.map(({ text }) => text.slice(0, 7))).toEqual(['Run 2: ']);
  });
});
