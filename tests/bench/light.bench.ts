import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Facing, Shelf } from '../../shared-types/rack';
import { arrange, evenness, potLight, shelfField } from '../../renderer/engine/light';
import { kind, lamp, lightPlan, shelf, tray } from '../engine/light/racks';

/** The claims about the light engine's speed, measured. Run from the project's folder. */

const white = { above: 0.7, canopy: 0.1, front: 0, back: 0.85, left: 0.85, right: 0.85 };
const strips = Array.from({ length: 8 }, (_, i) =>
  lamp({ id: `l${i + 1}`, yMm: 40 + 74 * i, zMm: 300 }),
);
const open = shelf({ lamps: strips, trays: [tray()], clearanceMm: 450 });
const bay = { ...open, canopy: { plantingMm: 80, harvestMm: 80 }, reflectances: white };
const request = { heightMm: 50, gridMm: 10 };

/** Milliseconds of the processor's time of the first call and the best of several. */
function timed(work: () => unknown, repeats = 30): { first: number; best: number } {
  const times: number[] = [];
  for (let i = 0; i < repeats; i++) {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    times.push((user + system) / 1000);
  }
  return { first: times[0] ?? NaN, best: Math.min(...times) };
}

function line(what: string, { first, best }: { first: number; best: number }): void {
  console.log(`${what}: ${best.toFixed(2)} ms at best, ${first.toFixed(1)} ms at first`);
}

/** The same sum in C, compiled with -O3; null where there is no compiler. */
function inC(): { ms: number; mean: number } | null {
  const folder = mkdtempSync(join(tmpdir(), 'light-direct-'));
  try {
    const program = join(folder, 'light-direct');
    const source = resolve('tests/bench/light-direct.c');
    execFileSync('cc', ['-O3', '-o', program, source, '-lm'], { stdio: 'ignore' });
    const [ms = NaN, mean = NaN] = execFileSync(program, { encoding: 'utf8' })
      .trim()
      .split(' ')
      .map(Number);
    return { ms, mean };
  } catch {
    return null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

console.log('light: shelf of 1200 × 600 mm, eight strips, 10 mm grid (7200 points)');
const directLight = () => shelfField(open, [kind()], { ...request, reflected: false });
// In turns, so that what else the machine does falls on both alike.
const turns = Array.from({ length: 4 }, () => ({ own: timed(directLight), c: inC() }));
const best = Math.min(...turns.map(({ own }) => own.best));
line('direct light (claim: under 16 ms)', { first: turns[0]?.own.first ?? NaN, best });
const inOther = turns.flatMap(({ c }) => c ?? []);
const [first] = inOther;
if (first) {
  const { mean } = evenness(directLight().ppfd);
  const ms = Math.min(...inOther.map((one) => one.ms));
  console.log(
    `the same in C, -O3: ${ms.toFixed(2)} ms; ratio ${(best / ms).toFixed(2)} (claim: 1.3); ` +
      `means ${mean.toFixed(6)} and ${first.mean.toFixed(6)}`,
  );
} else console.log('the same in C: no compiler here');
/** The shelf with lamps that nothing is known of yet, as after a drag. */
const moved = (s: Shelf): Shelf => ({ ...s, lamps: s.lamps.map((one) => ({ ...one })) });
const around = (facing: Facing) => ({ back: facing, left: facing, right: facing });
const dark = { ...white, back: 0, left: 0, right: 0 };
const sides: [string, Shelf][] = [
  ['with reflection', bay],
  ['with foil on three sides', { ...bay, faces: around({ kind: 'foil', specular: 0.9 }) }],
  [
    'with a wall behind three sides',
    {
      ...bay,
      reflectances: dark,
      faces: around({ kind: 'wall', reflectance: 0.85, distanceMm: 100 }),
    },
  ],
];
for (const [what, s] of sides) {
  line(
    `${what} (claim: 100 ms)`,
    timed(() => shelfField(moved(s), [kind()], request), 10),
  );
}
const forty = Array.from({ length: 40 }, (_, i) => ({
  ...bay,
  id: `s${i + 1}`,
  number: i + 1,
  reflectances: dark,
  heightMm: 200 + 500 * (i % 4),
  trays: [tray({ id: `t${i + 1}` })],
  stands: { xMm: 600 + 1250 * Math.floor(i / 4), yMm: 600, turnDeg: 0 as const },
}));
const room = {
  widthMm: 14_000,
  depthMm: 4000,
  heightMm: 3000,
  walls: 0.7,
  floor: 0.3,
  ceiling: 0.8,
};
for (const [what, around] of [
  ['ten racks of four side by side', {}],
  ['the same in a room', { room }],
] as const) {
  const light = () =>
    potLight({ shelves: forty.map(moved), lampKinds: [kind()], ...around }, lightPlan());
  line(`${what} (claim: 5 s)`, timed(light, 2));
}
line(
  'all pots of the shelf, with reflection',
  timed(() => potLight({ shelves: [bay], lampKinds: [kind()] }, lightPlan()), 10),
);
line(
  'beam of 90°, direct',
  timed(
    () =>
      shelfField(open, [kind({ emission: { kind: 'beam', fullAngleDeg: 90 } })], {
        ...request,
        reflected: false,
      }),
    10,
  ),
);
line(
  'arranging four strips, each with a dimmer',
  timed(
    () =>
      arrange({
        shelf: bay,
        lampKinds: [kind()],
        kind: kind(),
        count: 4,
        targetMeanUmol: 100,
        canopyAt: 'planting',
        ownDimming: true,
        limits: { aboveCanopyMm: 220, highestMm: 400, fromSidesMm: 30, apartMm: 40 },
      }),
    2,
  ),
);
