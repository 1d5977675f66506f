import { potsOfRack } from '../../renderer/engine/geometry';
import { lightStamp } from '../../renderer/engine/lamps';
import { shelfLight } from '../../renderer/engine/light';
import { stream } from '../../renderer/engine/trial/stream';
import type { Plan } from '../../shared-types/plan';
import type { LightReading } from '../../shared-types/light';
import type { Rack } from '../../shared-types/rack';

/** What was made up to be read and weighed in the demo, each from a stream of the seed. */
const LABEL_HELD = 0.97;
const METER_SD = 0.015;

/** Nine readings a shelf: lamps a little weaker than their label, and a meter that wavers. */
export function soundReadings(rack: Rack, seed: string): LightReading[] {
  const meter = stream(seed, 'meter');
  return rack.shelves.flatMap((s) => {
    const zMm = (s.canopy.plantingMm + s.canopy.harvestMm) / 2;
    const points = [90, 300, 510].flatMap((yMm) =>
      [120, 600, 1080].map((xMm) => ({ xMm, yMm, zMm })),
    );
    const ppfd = shelfLight(s, rack.lampKinds, { heightMm: zMm, reflected: true }).at(points);
    return points.map((point, i): LightReading => ({
      id: `r${90 + 10 * s.number + i}`,
      shelfId: s.id,
      ...point,
      value: Math.round((ppfd[i] ?? 0) * LABEL_HELD * (1 + METER_SD * meter.normal())),
      unit: 'ppfd',
      luxPerPpfd: null,
      date: '2026-02-26',
      note: '',
      of: lightStamp(s, rack.lampKinds),
    }));
  });
}

const FEED_G: Record<string, number> = { v51: 0, v52: 9, v53: 11.5 };
const CULTIVAR_G: Record<string, number> = { v55: 0, v56: 4, v57: -5, v58: 2 };
const LIGHT_G_PER_UMOL = 0.09;
const SHELF_SD = 1.5;
const TRAY_SD = 1;
const PLANT_SD = 3.4;
const DEAD = 5;

/** Weights and leaves at start and harvest, the dead, and what happened. */
export function soundHarvest(
  plan: Plan,
  seed: string,
  ppfdByPot: ReadonlyMap<string, number>,
): Plan['records'] {
  const values: Record<string, Record<string, number>> = { m60: {}, m61: {}, m62: {}, m63: {} };
  const put = (measurement: string, pot: string, value: number) => {
    (values[measurement] ??= {})[pot] = value;
  };
  const places = stream(seed, 'places');
  const plants = stream(seed, 'plants');
  const shelfG = new Map(plan.rack.shelves.map((s) => [s.id, SHELF_SD * places.normal()]));
  const trayG = new Map(
    plan.rack.shelves.flatMap((s) => s.trays).map((t) => [t.id, TRAY_SD * places.normal()]),
  );
  const levelsOf = new Map(plan.layout?.assignments.map((a) => [a.potId, a.levels]));
  const pots = potsOfRack(plan.rack);
  const mean = [...ppfdByPot.values()].reduce((sum, v) => sum + v, 0) / ppfdByPot.size;
  const marks: Plan['records']['marks'] = {};
  const dead = new Set<string>();
  while (dead.size < DEAD) dead.add(pots[plants.integer(pots.length)]?.id ?? '');
  for (const pot of pots) {
    const levels = levelsOf.get(pot.id) ?? {};
    const start = Math.max(2, 6 + 1.1 * plants.normal());
    const weight =
      38 +
      (FEED_G[levels['f50'] ?? ''] ?? 0) +
      (CULTIVAR_G[levels['f54'] ?? ''] ?? 0) +
      LIGHT_G_PER_UMOL * ((ppfdByPot.get(pot.id) ?? mean) - mean) +
      1.2 * (start - 6) +
      (shelfG.get(pot.shelfId) ?? 0) +
      (trayG.get(pot.trayId) ?? 0) +
      PLANT_SD * plants.normal();
    put('m60', pot.id, round(start, 1));
    put('m61', pot.id, Math.max(2, Math.round(1.2 * start + plants.normal())));
    if (dead.has(pot.id)) {
      const date = `2026-03-${String(8 + plants.integer(20)).padStart(2, '0')}`;
      marks[pot.id] = { mark: 'dead', date, reason: 'wilted and did not recover' };
      continue;
    }
    put('m62', pot.id, round(Math.max(6, weight), 1));
    put('m63', pot.id, Math.max(4, Math.round(0.9 * weight + 3 * plants.normal())));
  }
  const incidents = [
    {
      id: 'i90',
      date: '2026-03-19',
      text: 'Pump of tray 2B stood still overnight; flooded by hand at 7:30.',
      about: ['t22'],
    },
  ];
  return { values, second: {}, marks, incidents };
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
