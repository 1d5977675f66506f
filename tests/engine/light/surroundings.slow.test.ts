import { describe, expect, it } from 'vitest';
import type { Facing, Shelf, Side } from '../../../shared-types/rack';
import { shelfInRoom } from '../../../renderer/engine/lamps';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { traceScene, type Sheet, type Strip } from './sceneTracer';
import { kind, lamp, shelf } from './racks';

const [W, D, LOW, TOP] = [1200, 600, 50, 450];
const CELLS = [12, 6] as const;
const strip = kind({ lengthMm: 1100 });
const hung = [120, 300, 480];
const open = { above: 0.7, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 };

function bay(change: Partial<Shelf> = {}): Shelf {
  const lamps = hung.map((yMm, i) => lamp({ id: `l${i}`, yMm, zMm: 400 }));
  return shelf({ clearanceMm: TOP, reflectances: open, lamps, ...change });
}

/** Canopy and underside of a bay, and its sides where they reflect. */
function sheetsOf(
  x: number,
  y: number,
  name: string,
  sides: Partial<Record<Side, { reflectance: number; specular?: number }>> = {},
): Sheet[] {
  const level = { axis: 2, low: [x, y], high: [x + W, y + D] } as const;
  const across = { axis: 0, low: [y, LOW], high: [y + D, TOP] } as const;
  const along = { axis: 1, low: [x, LOW], high: [x + W, TOP] } as const;
  const at = { left: x, right: x + W, front: y, back: y + D };
  return [
    { ...level, at: LOW, reflectance: open.canopy, counts: { cells: CELLS, name } },
    { ...level, at: TOP, reflectance: open.above },
    ...(['left', 'right', 'front', 'back'] as const).flatMap((side): Sheet[] => {
      const found = sides[side];
      const plane = side === 'left' || side === 'right' ? across : along;
      return found ? [{ ...plane, at: at[side], ...found }] : [];
    }),
  ];
}

const stripsAt = (x: number, y: number): Strip[] =>
  hung.map((yMm) => ({
    xMm: x + 600,
    yMm: y + yMm,
    zMm: 400,
    lengthMm: 1100,
    alongX: true,
  }));

/** Means over the cells of the tracer, by 4 × 4 points in each. */
function inCells(s: Shelf): Float64Array {
  const points = [];
  for (let j = 0; j < CELLS[1] * 4; j++) {
    for (let i = 0; i < CELLS[0] * 4; i++) {
      points.push({
        xMm: ((i + 0.5) * W) / CELLS[0] / 4,
        yMm: ((j + 0.5) * D) / CELLS[1] / 4,
        zMm: LOW,
      });
    }
  }
  const ppfd = ppfdAtPoints(s, [strip], points);
  const cells = new Float64Array(CELLS[0] * CELLS[1]);
  ppfd.forEach((value, n) => {
    const [i, j] = [n % (CELLS[0] * 4), Math.floor(n / (CELLS[0] * 4))];
    const at = Math.floor(j / 4) * CELLS[0] + Math.floor(i / 4);
    cells[at] = (cells[at] ?? 0) + value / 16;
  });
  return cells;
}

// The mean of some 45,000 photons that land is good to 0.5 %, a cell of 400 to 5 %.
const PHOTONS = 150_000;
const meanOf = (cells: Float64Array) => cells.reduce((sum, value) => sum + value, 0) / cells.length;

/** Mean and least cell, as traced and as computed; µmol m⁻² s⁻¹. */
function compare(s: Shelf, sheets: Sheet[], strips: Strip[]) {
  const landed = traceScene(sheets, strips, PHOTONS, 'what is around').get('A');
  if (!landed) throw new Error('a counting sheet is expected');
  const flux = 40 * strips.length;
  const cellM2 = (W * D * 1e-6) / (CELLS[0] * CELLS[1]);
  const traced = landed.map((share) => (share * flux) / cellM2);
  const found = inCells(s);
  const off = found.map((value, i) => value / (traced[i] ?? NaN) - 1);
  // A cell gets some n photons of those sent: its error is 1/√n.
  const error = 1 / Math.sqrt((Math.min(...landed) || 1e-9) * PHOTONS);
  return {
    mean: meanOf(found) / meanOf(traced) - 1,
    worst: Math.max(...off.map(Math.abs)),
    minToMean: Math.min(...found) / meanOf(found) - Math.min(...traced) / meanOf(traced),
    error,
  };
}

const faced = (faces: Partial<Record<Side, Facing>>, reflectances = open): Shelf =>
  bay({ faces, reflectances });

describe('against photons followed one by one', () => {
  it('an open bay', () => {
    const { mean, worst, error } = compare(bay(), sheetsOf(0, 0, 'A'), stripsAt(0, 0));
    expect(Math.abs(mean)).toBeLessThan(0.015);
    expect(worst).toBeLessThan(0.01 + 4 * error);
  });

  it('a white wall 100 mm behind', () => {
    const s = faced({ back: { kind: 'wall', reflectance: 0.85, distanceMm: 100 } });
    const wall: Sheet = {
      axis: 1,
      at: D + 100,
      low: [-3000, -3000],
      high: [4200, 3000],
      reflectance: 0.85,
    };
    const { mean, worst, error } = compare(s, [...sheetsOf(0, 0, 'A'), wall], stripsAt(0, 0));
    expect(Math.abs(mean)).toBeLessThan(0.02);
    expect(worst).toBeLessThan(0.03 + 4 * error);
  });

  it('foil on all sides, nine tenths of it as a mirror', () => {
    const foil: Facing = { kind: 'foil', specular: 0.9 };
    const all = { front: foil, back: foil, left: foil, right: foil };
    const white = { ...open, front: 0.9, back: 0.9, left: 0.9, right: 0.9 };
    const side = { reflectance: 0.9, specular: 0.9 };
    const sides = { front: side, back: side, left: side, right: side };
    const traced = compare(faced(all, white), sheetsOf(0, 0, 'A', sides), stripsAt(0, 0));
    expect(Math.abs(traced.mean)).toBeLessThan(0.02);
    expect(Math.abs(traced.minToMean)).toBeLessThan(0.05);
  });

  it.each([
    ['side by side', 'right', W + 50, 0],
    ['back to back', 'back', 0, D + 50],
  ] as const)('a lit shelf %s across 50 mm, and a dim one', (_, side, x, y) => {
    const facing: Facing = { kind: 'shelf', shelfId: 's2', gapMm: 50 };
    const sheets = [...sheetsOf(0, 0, 'A'), ...sheetsOf(x, y, 'B')];
    const other = bay({ id: 's2', number: 2 });
    const alike = shelfInRoom(faced({ [side]: facing }), [other]);
    const both = compare(alike, sheets, [...stripsAt(0, 0), ...stripsAt(x, y)]);
    expect(Math.abs(both.mean)).toBeLessThan(0.015);
    expect(both.worst).toBeLessThan(0.03 + 4 * both.error);
    const unlit = { ...faced({ [side]: facing }), lamps: [] };
    const onlyTheirs = compare(shelfInRoom(unlit, [other]), sheets, stripsAt(x, y));
    expect(Math.abs(onlyTheirs.mean)).toBeLessThan(0.06);
  });
});
