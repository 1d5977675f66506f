import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { readArguments } from '../../../electron/batch/verb';
import { tempFolder } from '../tempFolder';

const plan = fileURLToPath(new URL('../../../renderer/app/examples/basil.json', import.meta.url));
const run = (...words: string[]) =>
  Promise.resolve(findingsVerb.run(readArguments(findingsVerb, words)));

describe('findings from the shell', () => {
  it('give tables and statements, and write report, tables and figures where asked', async () => {
    const out = join(await tempFolder(), 'report');
    const found = (await run(plan, '--report', out, '--redraws', '200')) as {
      paragraph: string;
      redraws: { term: string; runs: number; exact: boolean }[];
      sensitivity: { label: string }[];
      positions: { model: string; information: { aic: number } | null }[];
    };
    expect(found.paragraph).toContain('Feed made a difference');
    expect(found.positions.every(({ information }) => information !== null)).toBe(true);
    expect(found.sensitivity.map((row) => row.label)).toContain('Dunmarrow − Purple Fen');
    expect(found.redraws.map(({ term, runs, exact }) => [term, runs, exact])).toEqual([
      ['feed', 216, true],
      ['cultivar', 200, false],
    ]);
    const names = await readdir(out);
    for (const name of ['report.html', 'tables.csv', 'position.svg', 'residuals.svg']) {
      expect(names).toContain(name);
    }
    const html = await readFile(join(out, 'report.html'), 'utf8');
    expect(html).toContain('of all 216 possible layouts');
  });

  it('judge pots by the light that they received where a rota moves the trays', async () => {
    const read = JSON.parse(await readFile(plan, 'utf8')) as { light: object };
    const places = {
      t11: { placeOf: 't12', turned: false },
      t12: { placeOf: 't11', turned: false },
    };
    const rota = [{ fromDay: 15, toDay: 28, places }];
    const moved = join(await tempFolder(), 'moved.json');
    await writeFile(moved, JSON.stringify({ ...read, light: { ...read.light, rota } }));
    const slope = (of: unknown) => (of as { light: { difference: number } }).light.difference;
    const [there, here] = [await run(moved), await run(plan)];
    expect((there as { paragraph: string }).paragraph).toContain('with the tray moves');
    expect((here as { paragraph: string }).paragraph).not.toContain('with the tray moves');
    expect(slope(there)).not.toBeCloseTo(slope(here), 6);
  });

  it('refuse a paper and a number of layouts that they do not know, and write nothing', async () => {
    const folder = await tempFolder();
    const out = join(folder, 'none');
    await expect(run(plan, '--report', out, '--paper', 'A3')).rejects.toThrow(/A3/);
    await expect(run(plan, '--report', out, '--redraws', 'many')).rejects.toThrow(/many/);
    expect(await readdir(folder)).not.toContain('none');
  });
});
