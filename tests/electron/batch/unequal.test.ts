import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { readArguments } from '../../../electron/batch/verb';
import { emptyPlan } from '../../../renderer/document/new';
import { writeCompact } from '../../../renderer/document/open';
import { drawnFromOf } from '../../../renderer/engine/trial/draw/drawnFrom';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import { planSchema, type Plan } from '../../../shared-types/plan';
import { drawn, factorOf, inputOf, rackOf, trialOf, withTimes } from '../../builders/trialInput';
import { tempFolder } from '../tempFolder';

/** Blocks on shelves, each row a pot: number of its level and what it weighed. */
function planOf(blocks: readonly (readonly [number, number][])[], levels: number): Plan {
  const rack = rackOf({
    shelves: blocks.length,
    traysPerShelf: 1,
    rows: 1,
    columns: blocks[0]?.length ?? 0,
  });
  const trial = trialOf([withTimes(factorOf(1, 'pot', levels), { 1: 2 })], {
    blocks: { by: 'shelf' },
    scheme: 'complete-blocks',
    measurements: [
      {
        id: 'm1',
        name: 'shoot',
        kind: 'weight',
        unit: 'g',
        decimals: 1,
        timepoint: 'harvest',
        date: null,
        lowest: null,
        highest: null,
      },
    ],
    primaryOutcomeId: 'm1',
  });
  const pots = blocks.flatMap((block, b) =>
    block.map(([level, grams], i) => ({
      id: `t${b + 1}01:1:${i + 1}`,
      block: b + 1,
      level,
      grams,
    })),
  );
  return planSchema.parse({
    ...emptyPlan('Double control'),
    nextId: 100_000,
    rack,
    trial,
    layout: {
      scheme: trial.scheme,
      seed: 'double control',
      ...drawn,
      drawnFrom: drawnFromOf(siteOf(inputOf(rack, trial))),
      candidates: 1,
      assignments: pots.map(({ id, block, level }) => ({
        potId: id,
        block: `Shelf ${block}`,
        levels: { f1: `l10${level}` },
        plant: null,
      })),
      swaps: [],
      plantedAt: null,
    },
    records: {
      ...emptyPlan('none').records,
      values: { m1: Object.fromEntries(pots.map(({ id, grams }) => [id, grams])) },
    },
  });
}

interface Found {
  paragraph: string;
  redraws: { runs: number; asExtreme: number; observed: number; p: number; exact: boolean }[];
}

async function findingsOf(plan: Plan): Promise<Found> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writeCompact(plan));
  const args = readArguments(findingsVerb, [path, '--redraws', '500']);
  return (await findingsVerb.run(args)) as Found;
}

describe('findings of a trial with a double control', () => {
  it('test the treatments within blocks, unequal numbers or not', async () => {
    const { paragraph, redraws } = await findingsOf(
      planOf(
        [
          [
            [2, 11.5],
            [1, 10.7],
            [4, 12.3],
            [3, 11.5],
            [1, 10.6],
          ],
          [
            [1, 11.2],
            [4, 13.9],
            [3, 12],
            [1, 11.1],
            [2, 13.3],
          ],
          [
            [2, 13.9],
            [3, 12.5],
            [1, 12.7],
            [1, 12.3],
            [4, 15],
          ],
          [
            [2, 15.1],
            [3, 13.7],
            [1, 13.9],
            [4, 15.5],
            [1, 13.1],
          ],
        ],
        4,
      ),
    );
    // R 4.2.2, anova(lm(y ~ block + feed)): feed 3 df, F 35.28442; residuals 13 df.
    expect(redraws[0]?.observed).toBeCloseTo(35.28442, 4);
    expect(paragraph).toContain('F 35.3 on 3 and 13 df');
    expect(redraws[0]).toMatchObject({ runs: 500, exact: false });
    expect(redraws[0]?.p).toBeLessThan(0.05);
  });

  it('list every layout that the draw could have given', async () => {
    // Two blocks of three pots: 3 places of the single treatment in each, 9 layouts; it was heaviest in
    // both blocks, and no other layout sets it as far from the control.
    const { redraws } = await findingsOf(
      planOf(
        [
          [
            [1, 10],
            [2, 14],
            [1, 11],
          ],
          [
            [2, 15],
            [1, 11],
            [1, 12],
          ],
        ],
        2,
      ),
    );
    expect(redraws[0]).toMatchObject({ runs: 9, asExtreme: 1, exact: true });
    expect(redraws[0]?.p).toBeCloseTo(1 / 9, 12);
  });
});
