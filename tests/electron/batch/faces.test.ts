import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { setFacing } from '../../../renderer/document/commands';
import { writePlan } from '../../../renderer/document/open';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Facing } from '../../../shared-types/rack';
import { run } from '../../builders/run';
import { drawnWithWater, withSettings } from '../../engine/treated/plans';
import { tempFolder } from '../tempFolder';
import { answerOf } from './lightAnswer';

/**
 * The sample with its shelves side by side, the lamps of the second one bright and those of the first
 * one at a fifth by treatment.
 */
const dimAndBright = (): Plan => {
  const plan = withSettings(drawnWithWater(), { v1: { through: 'light', dimming: 0.2 } });
  const shelves = plan.rack.shelves.map((one) => ({ ...one, heightMm: 400 }));
  return { ...plan, nextId: 20, rack: { ...plan.rack, shelves } };
};
const towards = (plan: Plan, gapMm: number): Plan =>
  run(plan, setFacing, {
    shelfId: 's1',
    side: 'left',
    facing: { kind: 'shelf', shelfId: 's2', gapMm },
  });

async function leaksIn(plan: Plan): Promise<Notice[]> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan(plan));
  let [out, err] = ['', ''];
  const code = await runBatch(['check', path], [checkVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  expect([code, err]).toEqual([0, '']);
  const { notices } = JSON.parse(out) as { notices: Notice[] };
  return notices.filter(({ kind }) => kind === 'light-leaks');
}

test('light counts what a side faces', async () => {
  const plan = dimAndBright();
  const meanOf = async (of: Plan) => (await answerOf(of)).shelves[0]?.mean ?? NaN;
  const facing = (one: Facing) =>
    run(plan, setFacing, { shelfId: 's1', side: 'left' as const, facing: one });
  const alone = await meanOf(plan);
  expect(await meanOf(facing({ kind: 'dark' }))).toBeCloseTo(alone, 9);
  const wall = await meanOf(facing({ kind: 'wall', reflectance: 0.8, distanceMm: 50 }));
  expect(wall).toBeGreaterThan(alone * 1.001);
  expect(await meanOf(towards(plan, 0))).toBeGreaterThan(wall);
});

test('check tells light of another level through an open side, and not across a wide gap', async () => {
  const [found, ...more] = await leaksIn(towards(dimAndBright(), 0));
  expect(more).toEqual([]);
  expect(found?.text).toContain('through its open sides');
  expect(found?.about).toEqual([expect.stringMatching(/^bay:/)]);
  expect(await leaksIn(towards(dimAndBright(), 5000))).toEqual([]);
  const closed = run(towards(dimAndBright(), 0), setFacing, {
    shelfId: 's1',
    side: 'left',
    facing: { kind: 'matt' },
  });
  expect(await leaksIn(closed)).toEqual([]);
});
