import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { floodVerb } from '../../../electron/batch/verbs/flood';
import { emptyPlan } from '../../../renderer/document/new';
import { writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { aFlood, aPlan, aTray } from '../../engine/flood/plans';
import { tempFolder } from '../temp-folder';

async function flood(plan: Plan): Promise<{ code: number; out: string; err: string }> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan(plan));
  let [out, err] = ['', ''];
  const code = await runBatch(['flood', path], [floodVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err };
}

test('gives volume, times, draw, load and timeline of every zone and tray', async () => {
  // A H = 28.8 L and A H / Q = 172.8 s: trade-facts.md 4.1 and 4.2.
  const { code, out } = await flood(aPlan(aTray({ grid: null }), aFlood()));
  expect(code).toBe(0);
  const result = JSON.parse(out) as {
    zones: { trays: { tray: string; volume_l: number; fill_s: number; siphon: null }[] }[];
    timeline: { from: string; to: string }[];
    load: { shelf: number }[];
  };
  expect(result.zones[0]?.trays[0]).toMatchObject({ tray: '1A', siphon: null });
  expect(result.zones[0]?.trays[0]?.volume_l).toBeCloseTo(28.8, 9);
  expect(result.zones[0]?.trays[0]?.fill_s).toBeCloseTo(172.8, 6);
  expect(result.timeline.map((t) => t.from)).toEqual(['6:00', '10:00', '14:00', '18:00']);
  expect(result.load.map((l) => l.shelf)).toEqual([1]);
});

test('refuses a plan that says nothing of flooding', async () => {
  const { code, out, err } = await flood(emptyPlan('dry'));
  expect(code).toBe(2);
  expect(out).toBe('');
  expect(err).toMatch(/flood: found null.*; expected zones/);
});
