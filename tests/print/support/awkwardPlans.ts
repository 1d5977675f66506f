import { emptyPlan, newGrid, newShelf, newTray } from '../../../renderer/document/new';
import { newTrial } from '../../../renderer/document/newTrial';
import { potsOfRack, type Pot } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { PotGrid, Shelf } from '../../../shared-types/rack';
import type { Factor } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';

/** A tray by its figures: millimetres, and a grid that starts where it is told. */
export function shelfWith(
  number: number,
  size: { widthMm: number; depthMm: number },
  trays: readonly {
    xMm: number;
    yMm: number;
    widthMm: number;
    depthMm: number;
    grid: Partial<PotGrid>;
  }[],
): Shelf {
  const empty = newShelf(`s${number}`, []);
  const shelf: Shelf = { ...empty, number, ...size, heightMm: number * 500 };
  const list: Shelf['trays'] = [];
  for (const [i, given] of trays.entries()) {
    const { grid, ...place } = given;
    const tray = { ...newTray(`t${number * 10 + i}`, { ...shelf, trays: list }), ...place };
    list.push({ ...tray, grid: { ...newGrid(tray), ...grid } });
  }
  return { ...shelf, trays: list };
}

export function factor(id: string, name: string, levels: readonly string[]): Factor {
  return {
    id,
    name,
    kind: 'randomised',
    unit: 'pot',
    levels: levels.map((level, i) => ({ id: `v${Number(id.slice(1)) * 100 + i}`, name: level })),
    where: [],
  };
}

export function planWith(
  title: string,
  shelves: readonly Shelf[],
  factors: readonly Factor[],
  more: {
    seed?: string;
    plant?: (pot: Pot, i: number) => string;
    measurements?: Measurement[];
  } = {},
): Plan {
  const plan = emptyPlan(title);
  const rack = { shelves: [...shelves], lampKinds: [] };
  const trial = newTrial({ start: 'm1', harvest: 'm2' }, '');
  const measurements = more.measurements ?? trial.measurements;
  const assignments = potsOfRack(rack)
    .filter((pot) => !pot.guard)
    .map((pot, i) => ({
      potId: pot.id,
      block: 'whole rack',
      // Every combination in turn, out of step with the rows.
      levels: Object.fromEntries(
        factors.map((f, n) => {
          const step = factors.slice(n + 1).reduce((k, later) => k * later.levels.length, 1);
          const turn = Math.floor((i * 7 + pot.row) / step) % f.levels.length;
          return [f.id, f.levels[turn]?.id ?? ''];
        }),
      ),
      plant: more.plant?.(pot, i) ?? null,
    }));
  return {
    ...plan,
    rack,
    trial: { ...trial, factors: [...factors], measurements },
    layout: {
      scheme: 'completely-randomised',
      seed: more.seed ?? 'three owls',
      drawnAt: '2026-03-01T09:00:00+01:00',
      engineVersion: '0.1.0',
      drawnFrom: 'abc',
      candidates: 1,
      assignments,
      swaps: [],
      plantedAt: null,
    },
  };
}

const two = [factor('f1', 'feed', ['weak', 'strong'])];

function tightGrid(rows: number, columns: number, pitch: number, pot: number): Partial<PotGrid> {
  return {
    rows,
    columns,
    pitchXMm: pitch,
    pitchYMm: pitch,
    potDiameterMm: pot,
    firstXMm: pitch / 2,
    firstYMm: pitch / 2,
  };
}

function oneTray(widthMm: number, depthMm: number, grid: Partial<PotGrid>): Shelf[] {
  return [
    shelfWith(1, { widthMm: widthMm + 20, depthMm: depthMm + 20 }, [
      { xMm: 10, yMm: 10, widthMm, depthMm, grid },
    ]),
  ];
}

const longWords =
  'slow-release granules, twice the usual dose, stirred into the upper third of the medium';

/** Plans that strain the pages: odd trays, small pots, many treatments, long names. */
export function awkwardPlans(): Record<string, Plan> {
  return {
    long: planWith('A gutter', oneTray(1150, 110, tightGrid(1, 12, 95, 80)), two),
    deep: planWith('A deep tray', oneTray(150, 1100, tightGrid(14, 2, 75, 60)), two),
    staggered: planWith(
      'Staggered rows, guards and empty holes',
      oneTray(640, 520, {
        ...tightGrid(6, 7, 84, 70),
        pattern: 'staggered',
        guardRing: true,
        empty: ['2:3', '4:4', '6:7'],
      }),
      two,
    ),
    plugs: planWith('Plugs at 25 mm', oneTray(250, 250, tightGrid(10, 10, 25, 22)), two),
    crowd: planWith('Forty by twenty', oneTray(1000, 500, tightGrid(20, 40, 25, 22)), two),
    dense: planWith('A hundred by sixty', oneTray(1500, 900, tightGrid(60, 100, 15, 13)), [
      factor('f1', 'strain', ['one', 'two', 'three']),
    ]),
    thirty: planWith('Thirty treatments', oneTray(560, 480, tightGrid(6, 7, 78, 70)), [
      factor('f1', 'medium', ['bark', 'clay', 'wool', 'coir', 'sand']),
      factor('f2', 'feed', ['none', 'a quarter', 'half', 'undiluted', 'twice', 'four times']),
    ]),
    wordy: planWith(
      'An exceedingly long title of a plan that somebody wrote in full because it is quoted in the report to the sponsors, 2026',
      oneTray(560, 480, tightGrid(5, 6, 90, 80)),
      [
        factor('f1', 'feed', [longWords, 'none', `liquid feed instead of ${longWords}`]),
        factor('f2', 'Lichtverhältnisse', [
          'Dauerbeleuchtungsversuchsanordnung',
          'übliche Tageslänge',
        ]),
      ],
      {
        seed: `${'seventy herons over the reservoir at dusk '.repeat(4)}${'x'.repeat(30)}`,
        plant: (_, i) => `Ocimum-2026-${String(i + 1).padStart(3, '0')}`,
        measurements: [
          ...['start', 'interim', 'harvest'].flatMap((timepoint, n): Measurement[] =>
            Array.from({ length: 1 + n * 5 }, (_, i) => ({
              id: `m${n * 10 + i}`,
              name:
                i === 0
                  ? 'Fresh weight above the surface'
                  : `Length of internode number ${i}, from the base`,
              kind: 'weight',
              unit: i === 0 ? 'g' : 'mm',
              decimals: 1,
              timepoint: timepoint as Measurement['timepoint'],
              date: timepoint === 'interim' ? `2026-0${4 + (i % 2)}-01` : null,
              lowest: null,
              highest: null,
            })),
          ),
        ],
      },
    ),
    shelves: planWith(
      'Five shelves, trays back to back',
      [1, 2, 3, 4, 5].map((n) =>
        shelfWith(n, { widthMm: 1200, depthMm: 620 }, [
          { xMm: 0, yMm: 0, widthMm: 600, depthMm: 300, grid: tightGrid(3, 6, 95, 85) },
          { xMm: 600, yMm: 0, widthMm: 600, depthMm: 300, grid: tightGrid(3, 6, 95, 85) },
          { xMm: 0, yMm: 305, widthMm: 1200, depthMm: 300, grid: tightGrid(3, 12, 95, 85) },
        ]),
      ),
      [factor('f1', 'feed', ['weak', 'medium', 'strong'])],
    ),
  };
}
