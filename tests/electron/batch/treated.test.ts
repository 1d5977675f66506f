import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { floodVerb } from '../../../electron/batch/verbs/flood';
import { lightVerb } from '../../../electron/batch/verbs/light';
import { writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { drawnWithWater, withSettings } from '../../engine/treated/plans';
import { tempFolder } from '../tempFolder';

async function answer(words: readonly string[], plan: Plan): Promise<unknown> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan({ ...plan, nextId: 20 }));
  let [out, err] = ['', ''];
  const [verb = '', ...options] = words;
  const code = await runBatch([verb, path, ...options], [lightVerb, floodVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(out);
}

interface Light {
  shelves: { mean: number }[];
  energy: { kwh_per_day: number };
}
interface Flood {
  zones: { volume_l: number; trays: { crest_mm: number }[] }[];
}

test('light is that of the rack as treated, --bare that of the rack as drawn', async () => {
  const plan = withSettings(drawnWithWater(), {
    v2: { through: 'light', dimming: 0.5, photoperiodHours: 12 },
  });
  const treated = (await answer(['light'], plan)) as Light;
  const bare = (await answer(['light', '--bare'], plan)) as Light;
  const ratio = (i: number) => (treated.shelves[i]?.mean ?? 0) / (bare.shelves[i]?.mean ?? 0);
  expect(ratio(0)).toBeCloseTo(1, 12);
  expect(ratio(1)).toBeCloseTo(0.5, 12);
  // One shelf of two for all 16 hours, the other at half power for 12.
  expect(treated.energy.kwh_per_day / bare.energy.kwh_per_day).toBeCloseTo(
    (1 + 0.5 * (12 / 16)) / 2,
    12,
  );
  const undrawn = (await answer(['light'], { ...plan, layout: null })) as Light;
  expect(undrawn.shelves).toEqual(bare.shelves);
});

test('flood is that of the rack as treated, --bare that of the rack as drawn', async () => {
  const plan = withSettings(drawnWithWater(), {
    v2: { through: 'water', floodDepthMm: 30 },
  });
  const crests = (flood: Flood) => flood.zones.map(({ trays }) => trays[0]?.crest_mm);
  expect(crests((await answer(['flood'], plan)) as Flood)).toEqual([40, 30]);
  expect(crests((await answer(['flood', '--bare'], plan)) as Flood)).toEqual([40, 40]);
});
