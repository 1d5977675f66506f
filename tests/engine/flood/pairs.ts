import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { NoticeKind } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { aFlood, aPlan, aTray } from './plans';

interface Change {
  tray?: Parameters<typeof aTray>[0];
  flood?: Partial<FloodPlan>;
  zone?: Partial<FloodZone>;
  more?: Parameters<typeof aPlan>[2];
}

const planOf = ({ tray, flood, zone, more }: Change): Plan =>
  aPlan(aTray(tray), aFlood(flood, zone), more);

/** A zone whose trays empty through a bell siphon. */
export const siphon = (change: Partial<Extract<FloodZone['drain'], { kind: 'siphon' }>> = {}) => ({
  // 3.02 min to fill from dry at 10 L/min: the pump stops a little later, and one flood comes a run.
  schedule: [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 3.1 }],
  floodDepthMm: 42,
  drain: {
    kind: 'siphon' as const,
    boreMm: 20,
    dropMm: 300,
    lossFactor: 3,
    tripFlowLMin: 8,
    ...change,
  },
});
const every = (everyMinutes: number, onMinutes: number) => [
  { startHour: 0, endHour: 24, everyMinutes, onMinutes },
];
const tilted = (rightMmPerM: number) => [
  { trayId: 't11', rightMmPerM, backMmPerM: 0, drainAt: 'lowest' as const },
];
const circuit = (otherW: number) => ({
  id: 'c50',
  name: 'circuit 1',
  breakerA: 10,
  voltageV: 230,
  powerFactor: 1,
  shelfIds: [],
  zoneIds: ['z30'],
  otherW,
});
/** One tray, 1.2 m × 0.6 m, without pots: A H is 28.8 L at 40 mm, 10 L/min fill it in 172.8 s. */
const bare = { grid: null };

/**
 * A plan with the flaw, and one that narrowly has not. The limits follow from A H / Q, Torricelli,
 * the weir at the lip (rise 8.15 mm at 10 L/min over 40 mm bore) and sums of weights by hand.
 */
const changes: [NoticeKind, string, Change, Change][] = [
  [
    'overtops',
    'crest at the rim, and an overflow that needs 8.15 mm over its lip',
    { tray: { rimHeightMm: 48 } },
    { tray: { rimHeightMm: 49 } },
  ],
  [
    'overtops',
    'a valve that stays shut: 10 L/min for 4.4 min are 44 L, the rim holds 43.2 L',
    {
      tray: bare,
      zone: { drain: { kind: 'valve', boreMm: 25 }, schedule: every(240, 4.4), residualMm: 0 },
    },
    {
      tray: bare,
      zone: { drain: { kind: 'valve', boreMm: 25 }, schedule: every(240, 4.3), residualMm: 0 },
    },
  ],
  [
    'too-shallow',
    'the level with the overflow running is 8.15 mm over the crest; 30 % of 80 mm is 24 mm',
    { zone: { floodDepthMm: 15.8 } },
    { zone: { floodDepthMm: 15.9 } },
  ],
  [
    'leaf-line-wet',
    'peak at 48.15 mm',
    { flood: { leafLineMm: 48 } },
    { flood: { leafLineMm: 49 } },
  ],
  [
    'pot-rim-wet',
    'peak at 48.15 mm',
    { tray: { grid: { ...gridOf(), potHeightMm: 48 } }, flood: { rootZoneTopMm: 40 } },
    { tray: { grid: { ...gridOf(), potHeightMm: 49 } }, flood: { rootZoneTopMm: 40 } },
  ],
  [
    'root-zone-over-pot',
    'a root zone of 80 mm',
    { tray: { grid: { ...gridOf(), potHeightMm: 79 } } },
    { tray: { grid: { ...gridOf(), potHeightMm: 80 } } },
  ],
  [
    'never-fills',
    '172.8 s to fill',
    { tray: bare, zone: { schedule: every(240, 2.87) } },
    { tray: bare, zone: { schedule: every(240, 2.89) } },
  ],
  [
    'never-fills',
    'an open return that carries 10 L/min at 40 mm: bore 19.9 mm by Torricelli',
    { tray: bare, zone: { drain: standpipe({ returnBoreMm: 20, returnThrough: 'hole' }) } },
    {
      tray: bare,
      zone: {
        drain: standpipe({ returnBoreMm: 19, returnThrough: 'hole' }),
        schedule: every(240, 30),
      },
    },
  ],
  [
    'never-drains',
    'from 48.15 to 2 mm through 20 mm takes 296.5 s',
    { tray: bare, zone: { schedule: every(10, 5.1) } },
    { tray: bare, zone: { schedule: every(10, 5.0) } },
  ],
  [
    'roots-too-wet',
    'of 120 minutes the pump runs 55 or 56, and draining takes 4.9 more',
    { zone: { schedule: every(120, 56) } },
    { zone: { schedule: every(120, 55) } },
  ],
  [
    'siphon-may-not-start',
    '10 L/min come in',
    { zone: siphon({ tripFlowLMin: 10.1 }) },
    { zone: siphon({ tripFlowLMin: 9.9 }) },
  ],
  [
    'siphon-may-not-break',
    'flow at 2 mm, drop 300 mm, four velocity heads: 10 L/min at 13.2 mm bore',
    { zone: siphon({ boreMm: 13.1 }) },
    { zone: siphon({ boreMm: 13.3 }) },
  ],
  [
    'reservoir-too-small',
    'peak 48.15 mm: 34.67 L, pipe 1.26 L, uptake 0.9 L, evaporation below 0.2 L; times 1.2: 44.4 L',
    { zone: { reservoirL: 44 } },
    { zone: { reservoirL: 45 } },
  ],
  [
    'pump-below-head',
    'from 200 mm to the crest at 2200 mm',
    { zone: { floodDepthMm: 40 }, more: { heightMm: 2161 } },
    { zone: { floodDepthMm: 40 }, more: { heightMm: 2155 } },
  ],
  [
    'shelf-overloaded',
    'full to the rim: 43.2 L × 0.99820413 + 6 kg = 49.12 kg',
    { tray: bare, more: { ratedKg: 49 } },
    { tray: bare, more: { ratedKg: 49.2 } },
  ],
  [
    'circuit-overloaded',
    '80 % of 10 A at 230 V are 1840 W, 20 W of them the pump',
    { flood: { circuits: [circuit(1821)] } },
    { flood: { circuits: [circuit(1820)] } },
  ],
  [
    'tray-not-level',
    'pots 1 m apart: 12.1 mm/m of 48.15 mm less 1.2 mm at the deepest are over a quarter',
    { flood: { slopes: tilted(12.1) } },
    { flood: { slopes: tilted(11.3) } },
  ],
];

function gridOf() {
  const { grid } = aTray();
  if (!grid) throw new Error('the sample tray has pots');
  return grid;
}

function standpipe(change: { returnBoreMm: number; returnThrough: 'pump' | 'hole' }) {
  return { kind: 'standpipe' as const, overflowBoreMm: 40, ...change };
}

export const floodPairs = changes.map(([kind, why, flawed, sound]) => ({
  kind,
  why,
  flawed: planOf(flawed),
  sound: planOf(sound),
}));
