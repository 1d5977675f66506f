import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { floodVerb } from '../../../electron/batch/verbs/flood';
import { emptyPlan } from '../../../renderer/document/new';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { floodPairs, siphon } from '../../engine/flood/pairs';
import { aFlood, aPlan, aTray, aZone } from '../../engine/flood/plans';
import { tempFolder } from '../tempFolder';

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

interface Said {
  kind: string | null;
  level: string;
  text: string;
}
interface Weights {
  dry_kg: number;
  drained_kg: number;
  flooded_kg: number;
  blocked_to_rim_kg: number;
}
interface Result {
  zones: (Record<string, number | null> & {
    zone: string;
    verdict: Said;
    trays: (Record<string, number | null> & {
      tray: string;
      siphon: { starts: string; breaks: string } | null;
      load: Weights;
      verdicts: Said[];
    })[];
  })[];
  timeline: { zone: string; from: string; to: string; start_s: number; end_s: number }[];
  overlaps: { zones: string[]; times: { from: string; to: string }[]; pumps_w: number }[];
  load: (Weights & {
    shelf: number;
    heaviest: string;
    rated_kg: number;
    margin_kg: number;
    margin_share: number;
    verdict: Said;
  })[];
  circuits: { margin_a: number; margin_share: number }[];
}

async function result(plan: Plan): Promise<Result> {
  const { code, out, err } = await flood(plan);
  expect([code, err]).toEqual([0, '']);
  return JSON.parse(out) as Result;
}

// A H = 28.8 L and A H / Q = 172.8 s: trade-facts.md 4.1 and 4.2. The pump runs 900 s.
const bare = aTray({ grid: null });

test('gives volume, times, draw, load and timeline of every zone and tray', async () => {
  const { zones, timeline, load } = await result(aPlan(bare, aFlood(), { ratedKg: 60 }));
  const [zone] = zones;
  const [tray] = zone?.trays ?? [];
  expect(tray).toMatchObject({ tray: '1A', siphon: null });
  expect(tray?.['volume_l']).toBeCloseTo(28.8, 9);
  expect(tray?.['fill_s']).toBeCloseTo(172.8, 6);
  expect(tray?.['fill_margin_s']).toBeCloseTo(900 - 172.8, 6);
  expect(tray?.['fill_margin_share']).toBeCloseTo(1 - 172.8 / 900, 9);
  // Four floods a day, 240 min apart, the last with the night after it.
  expect(tray?.['pause_s']).toBe(225 * 60);
  expect(tray?.['drain_margin_s']).toBeCloseTo(225 * 60 - (tray?.['drain_s'] ?? NaN), 9);
  const wet = tray?.['wet_fraction_root_zone'] ?? NaN;
  expect(tray?.['dry_fraction_root_zone']).toBeCloseTo(1 - wet, 12);
  // Dry a tray of 6 kg; to the rim 43.2 L more, 998.20413 g/L by trade-facts.md 5.1.
  expect(tray?.load.dry_kg).toBeCloseTo(6, 12);
  expect(tray?.load.blocked_to_rim_kg).toBeCloseTo(6 + 43.2 * 0.99820413, 6);
  expect(zone?.['volume_l']).toBeCloseTo(28.8, 9);
  expect(zone?.['fill_s']).toBeCloseTo(172.8, 6);
  expect(zone?.['drain_s']).toBe(tray?.['drain_s']);
  const needed = zone?.['needed_l'] ?? NaN;
  expect(zone?.['reservoir_margin_l']).toBeCloseTo(60 - needed, 9);
  expect(zone?.['reservoir_margin_share']).toBeCloseTo(1 - needed / 60, 9);
  expect(zone?.['least_reservoir_l']).toBeCloseTo(1.2 * needed, 9);
  expect(timeline.map((t) => t.from)).toEqual(['6:00', '10:00', '14:00', '18:00']);
  expect(timeline[0]).toMatchObject({ zone: 'zone 1', start_s: 21_600, end_s: 22_500 });
  expect(load[0]).toMatchObject({ shelf: 1, rated_kg: 60 });
  expect(load[0]?.margin_kg).toBeCloseTo(60 - 6 - 43.2 * 0.99820413, 6);
  expect(load[0]?.heaviest).toBe('every drain blocked, trays full to the rim');
});

test('names every figure with its unit, and gives each a figure, a word or nothing', async () => {
  const plan = aPlan(bare, aFlood({}, siphon()), { ratedKg: 60 });
  const { zones, load } = await result(plan);
  const [zone] = zones;
  const unit = /_(l|s|mm|m|kg|w|a|l_min|share|per_day|fraction_root_zone|fraction_at_peak)$/;
  for (const record of [zone, zone?.trays[0], zone?.trays[0]?.siphon, load[0]]) {
    for (const [name, value] of Object.entries(record ?? {})) {
      if (typeof value === 'number' && name !== 'shelf') expect(name).toMatch(unit);
    }
  }
  expect(Object.keys(zone?.trays[0] ?? {})).toEqual(
    expect.arrayContaining([
      'volume_l',
      'fill_s',
      'fill_margin_s',
      'drain_s',
      'siphon',
      'wet_fraction_root_zone',
      'load',
    ]),
  );
  expect(zone?.trays[0]?.siphon).toMatchObject({ starts: 'yes', breaks: 'yes' });
});

test('prints what runs over: of a tray in a day, of a zone between two top-ups', async () => {
  // 10 L/min for 10 min are 100 L a run; from the 2 mm that never drain to the rim 41.76 L go in.
  const schedule = [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 10 }];
  const zone = { drain: { kind: 'valve', boreMm: 25 } as const, schedule, reservoirL: 800 };
  const use = { uptakeMlPerPotDay: 0, evaporationMmDay: 0, topUpDays: 3 };
  const { zones } = await result(aPlan(bare, aFlood({ use }, zone)));
  expect(zones[0]?.trays[0]?.['spilled_l']).toBeCloseTo(4 * (100 - 41.76), 6);
  expect(zones[0]?.['spilled_l']).toBeCloseTo(3 * 4 * (100 - 41.76), 6);
  const sound = await result(aPlan(bare, aFlood()));
  expect(sound.zones[0]?.trays[0]?.['spilled_l']).toBe(0);
  expect(sound.zones[0]?.['runs_dry']).toEqual([]);
  // 61.26 L less the pipe's 1.2566 L: once the tray is full to the rim, 16.80 L are left to spill.
  const small = await result(aPlan(bare, aFlood({ use }, { ...zone, reservoirL: 61.2566 })));
  expect(small.zones[0]?.trays[0]?.['spilled_l']).toBeCloseTo(60 - 43.2, 3);
  // The pump brings 58.56 L in the first flood, and then the 41.76 L that drained back, at 10 L/min.
  expect(small.zones[0]?.['runs_dry']).toMatchObject([
    { from: '6:06', start_s: expect.closeTo(6 * 3600 + 6 * 58.56, 2) as number },
    { from: '10:04' },
    { from: '14:04' },
    { from: '18:04' },
  ]);
});

test('gives no margin of a depth that is never reached', async () => {
  // 20 L of the 28.8 L: 27.8 mm of the crest's 40.
  const schedule = [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 2 }];
  const { zones } = await result(aPlan(bare, aFlood({}, { schedule })));
  const tray = zones[0]?.trays[0];
  expect(tray?.['fill_s']).toBeCloseTo(172.8, 6);
  expect(tray?.['pump_on_s']).toBe(120);
  expect([tray?.['fill_margin_s'], tray?.['fill_margin_share']]).toEqual([null, null]);
  expect(tray?.['reaches_from_dry_mm']).toBeCloseTo(20 / 0.72, 9);
});

test('gives the depth at every pot of a tray that is not level', async () => {
  const slopes = [{ trayId: 't11', rightMmPerM: 5, backMmPerM: 0, drainAt: 'lowest' as const }];
  const { zones } = await result(aPlan(aTray(), aFlood({ slopes })));
  const [tray] = zones[0]?.trays ?? [];
  const pots = tray?.['pots'] as unknown as { pot: string; depth_mm: number }[];
  expect(pots).toHaveLength(18);
  const depth = (code: string) => pots.find((p) => p.pot === code)?.depth_mm ?? NaN;
  // The pots stand 200 mm apart: 1 mm of fall from one to the next, the lowest 0.5 mm up.
  expect(depth('1A-A1') - depth('1A-A6')).toBeCloseTo(5, 9);
  expect((tray?.['peak_mm'] ?? NaN) - depth('1A-C1')).toBeCloseTo(0.5, 9);
});

test('tells zones that flood together, after midnight too', async () => {
  const one = aZone({
    schedule: [{ startHour: 23.5, endHour: 23.5, everyMinutes: 60, onMinutes: 60 }],
  });
  const other = aZone({
    id: 'z31',
    name: 'zone 2',
    trayIds: [],
    schedule: [{ startHour: 0.25, endHour: 0.25, everyMinutes: 60, onMinutes: 30 }],
  });
  const { overlaps, timeline } = await result(aPlan(bare, aFlood({ zones: [one, other] })));
  expect(overlaps).toEqual([
    {
      zones: ['zone 1', 'zone 2'],
      times: [{ from: '0:15', to: '0:30', start_s: 900, end_s: 1800 }],
      pumps_w: 40,
    },
  ]);
  expect(timeline.map(({ from, to }) => `${from}–${to}`)).toEqual(['0:15–0:45', '23:30–0:30']);
});

test('keeps the units of its fields in a plan shown in inches, whose sentences follow the plan', async () => {
  const metric = aPlan(bare, aFlood(), { ratedKg: 49 });
  const imperial: Plan = { ...metric, display: { lengths: 'imperial' } };
  const [m, i] = [await result(metric), await result(imperial)];
  expect(i.zones[0]?.trays[0]?.['volume_l']).toBe(m.zones[0]?.trays[0]?.['volume_l']);
  // 49 kg at 0.45359237 kg a pound.
  expect(m.load[0]?.verdict.text).toContain('rated for 49 kg');
  expect(i.load[0]?.verdict.text).toContain('rated for 108 lb');
  expect(JSON.stringify(i.zones[0]?.verdict)).not.toMatch(/\d L\b/);
});

test('tells the four flaws of the example', async () => {
  const file = new URL('../../../renderer/app/examples/water.json', import.meta.url);
  const read = readPlan(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error('the example does not open');
  const { zones, load } = await result(read.plan);
  const trays = zones.flatMap((zone) => zone.trays);
  const flaws = (code: string) =>
    trays
      .find((tray) => tray.tray === code)
      ?.verdicts.filter((v) => v.level === 'bad')
      .map((v) => v.kind);
  expect(flaws('1A')).toEqual(['siphon-may-not-start', 'never-drains']);
  expect(flaws('1B')).toEqual(['siphon-may-not-break']);
  expect(flaws('2A')).toEqual(['overtops']);
  expect(flaws('2B')).toEqual([]);
  // Water that never leaves has no draining time.
  expect(trays[0]?.['drain_s']).toBeNull();
  expect(load.map((l) => l.verdict.kind)).toEqual([null, 'shelf-overloaded']);
  expect(load[1]?.margin_kg).toBeLessThan(0);
});

describe('every flaw of the water is told by the verb too', () => {
  test.each(floodPairs)('$kind: $why', async ({ kind, flawed, sound }) => {
    const told = async (plan: Plan) =>
      [...JSON.stringify(await result(plan)).matchAll(/"kind":"([a-z-]+)"/g)].map(([, k]) => k);
    expect(await told(flawed)).toContain(kind);
    expect(await told(sound)).toEqual([]);
  });
});

test('refuses a plan that says nothing of flooding', async () => {
  const { code, out, err } = await flood(emptyPlan('dry'));
  expect(code).toBe(2);
  expect(out).toBe('');
  expect(err).toMatch(/flood: found null.*; expected zones/);
});
