import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
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

/** Milliseconds of the first call and the best of several. */
function timed(work: () => unknown, repeats = 30): { first: number; best: number } {
  const times: number[] = [];
  for (let i = 0; i < repeats; i++) {
    const start = performance.now();
    work();
    times.push(performance.now() - start);
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
const direct = timed(() => shelfField(open, [kind()], { ...request, reflected: false }));
line('direct light (claim: under 16 ms)', direct);
const c = inC();
if (c) {
  const { mean } = evenness(shelfField(open, [kind()], { ...request, reflected: false }).ppfd);
  const ratio = (direct.best / c.ms).toFixed(2);
  console.log(
    `the same in C, -O3: ${c.ms.toFixed(2)} ms; ratio ${ratio}; ` +
      `means ${mean.toFixed(6)} and ${c.mean.toFixed(6)}`,
  );
} else console.log('the same in C: no compiler here');
line(
  'with reflection',
  timed(() => shelfField(bay, [kind()], request), 10),
);
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
