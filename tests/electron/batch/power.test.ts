import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { powerVerb } from '../../../electron/batch/verbs/power';
import type { PowerResult } from '../../../shared-types/power';
import { tempFolder } from '../tempFolder';

const usual = {
  alpha: 0.05,
  treatments: { light: 2, medium: 3 },
  unitsPerCell: 12,
  sd: 1,
  means: [
    [0, 0, 0],
    [0.5, 0.5, 0.5],
  ],
};
const effect = (of: unknown) => ({ means: undefined, effect: { f: 0.25, of } });

async function call(request: unknown) {
  const path = join(await tempFolder(), 'request.json');
  await writeFile(path, typeof request === 'string' ? request : JSON.stringify(request));
  let [out, err] = ['', ''];
  const code = await runBatch(['power', path], [powerVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err: err.replace(path, 'request.json') };
}

const solved = async (request: object) =>
  JSON.parse((await call({ ...usual, ...request })).out) as PowerResult;

test('power, units and difference agree with one another', async () => {
  const units = await solved({ solve: 'units', power: 0.8, unitsPerCell: undefined });
  const [light] = units.terms;
  expect(light?.unitsNeeded).toBe(units.unitsPerCell);
  expect((await solved({ unitsPerCell: units.unitsPerCell })).power).toBe(units.power);
  expect(units.power).toBeGreaterThanOrEqual(0.8);
  expect((await solved({ unitsPerCell: units.unitsPerCell - 1 })).power).toBeLessThan(0.8);

  const { terms } = await solved({ solve: 'difference', power: 0.8, means: undefined });
  const found = terms[0]?.difference ?? NaN;
  const means = [
    [0, 0, 0],
    [found, found, found],
  ];
  expect((await solved({ means })).power).toBeCloseTo(0.8, 10);
});

test('an effect beyond all doubt, or millions of units, take no time', async () => {
  const start = performance.now();
  expect(
    (
      await solved({
        means: [
          [0, 0, 0],
          [1e9, 1e9, 1e9],
        ],
      })
    ).power,
  ).toBe(1);
  expect((await solved({ unitsPerCell: 1_000_000 })).power).toBe(1);
  expect(performance.now() - start).toBeLessThan(2000);
});

test.each([
  [{ sd: -1 }, 'request.json, sd: found -1; expected a number above 0'],
  [{ sd: 0 }, 'request.json, sd: found 0; expected a number above 0'],
  [{ sd: 'one' }, 'request.json, sd: found "one"; expected '],
  [{ alpha: 0 }, 'request.json, alpha: found 0; expected a number above 0'],
  [{ alpha: 1 }, 'request.json, alpha: found 1; expected a number below 1'],
  [{ solve: 'units', power: 1 }, 'request.json, power: found 1; expected a number below 1'],
  [{ solve: 'units', power: 0.05 }, 'request.json, power: 0.05; expected above alpha 0.05'],
  [{ solve: 'difference' }, 'request.json, power: missing; expected with solve difference'],
  [{ treatments: { light: 1 } }, 'request.json, treatments.light: found 1; expected a number of'],
  [{ treatments: {} }, 'request.json, treatments: '],
  [{ treatments: { a: 1000, b: 1000 } }, 'treatments: 2 factors, 1000000 combinations; expected'],
  [effect('soil'), 'effect.of: no factor soil; expected one of light, medium'],
  [effect(['light', 'light']), 'effect.of: light × light; expected one of light, medium, light ×'],
  [{ for: ['soil'] }, 'for: no factor soil; expected one of light, medium'],
  [{ unitsPerCell: 1e12 }, 'request.json, unitsPerCell: found 1000000000000; expected a number of'],
  [{ unitsPerCell: 1.5 }, 'request.json, unitsPerCell: found 1.5; expected '],
  [
    { unitsPerCell: 1 },
    'unitsPerCell: 1 with 6 treatments and 1 block leaves 0 degrees of freedom',
  ],
  [{ blocks: 100 }, 'unitsPerCell: 12 with 6 treatments and 100 blocks leaves -33 degrees'],
  [{ means: [[0, 0]] }, 'means: a list of 1; expected a list of 2, one for each level of light'],
  [{ means: [[0, 'x', 1]] }, 'request.json, means[0][1]: found "x"; expected a number'],
  [{ sd: 1e-300 }, 'power: noncentrality is Infinity; expected a finite number'],
  [
    {
      solve: 'units',
      power: 0.8,
      means: [
        [0, 0, 0],
        [0, 0, 0],
      ],
    },
    'means: all equal; expected a difference to look for',
  ],
  [
    {
      solve: 'units',
      power: 0.8,
      means: [
        [0, 0, 0],
        [1e-9, 0, 0],
      ],
    },
    'power: light with f = 1.6666666666666669e-10 would take more than 1000000 units per cell',
  ],
  [{ effect: { f: 0.25, of: 'light' } }, 'request.json, means: found '],
  [{ solve: 'everything' }, 'request.json, solve: found "everything"; expected one of '],
  [{ spread: 1 }, 'request.json: found the unknown name "spread"; expected only names'],
])('bad request %j: exit code 2 and one line', async (more, says) => {
  const { code, out, err } = await call({ ...usual, ...more });
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err.slice(0, says.length)).toBe(says);
  expect(err.match(/\n/g)).toHaveLength(1);
});

test('a request that is no JSON, or no group, is refused', async () => {
  expect((await call('{')).err).toContain('request.json, line 1, column 2: found the end of');
  expect((await call([])).err).toContain('request.json: found an empty list; expected ');
});
