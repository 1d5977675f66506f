import type { Facing, Lamp, LampKind, Shelf, Side } from '../../../shared-types/rack';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import { traceScene, type Sheet, type Strip } from './sceneTracer';
import { kind, lamp, shelf } from './racks';

/** Bays of 1200 × 600 × 400 mm with three strips, as the engine and as the tracer know them. */
export const [W, D, LOW, TOP] = [1200, 600, 50, 450];
const CELLS = [12, 6] as const;
const HUNG = [120, 300, 480];
const STRIP = { lengthMm: 1100, zMm: 400, fluxUmolS: 40 };
export const strip: LampKind = kind({ lengthMm: STRIP.lengthMm });
export const open = { above: 0.7, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 };
const canopy = { plantingMm: LOW, harvestMm: LOW };

export function bay(change: Partial<Shelf> = {}, dimming = 1): Shelf {
  const id = change.id ?? 's1';
  const lamps = HUNG.map((yMm, i): Lamp =>
    lamp({ id: `${id}l${i}`, yMm, zMm: STRIP.zMm, dimming, group: id }),
  );
  return shelf({ clearanceMm: TOP, reflectances: open, canopy, heightMm: 0, lamps, ...change });
}

type Sides = Partial<Record<Side, { reflectance: number; specular?: number }>>;

/** Canopy and underside of a bay at a place, and its sides where they reflect. */
export function sheetsOf(name: string, x = 0, y = 0, z = 0, sides: Sides = {}): Sheet[] {
  const level = { axis: 2, low: [x, y], high: [x + W, y + D] } as const;
  const across = { axis: 0, low: [y, z + LOW], high: [y + D, z + TOP] } as const;
  const along = { axis: 1, low: [x, z + LOW], high: [x + W, z + TOP] } as const;
  const at = { left: x, right: x + W, front: y, back: y + D };
  return [
    { ...level, at: z + LOW, reflectance: open.canopy, counts: { cells: CELLS, name } },
    { ...level, at: z + TOP, reflectance: open.above },
    ...(['left', 'right', 'front', 'back'] as const).flatMap((side): Sheet[] => {
      const found = sides[side];
      const plane = side === 'left' || side === 'right' ? across : along;
      return found ? [{ ...plane, at: at[side], ...found }] : [];
    }),
  ];
}

export const stripsAt = (x = 0, y = 0, z = 0): Strip[] =>
  HUNG.map((yMm) => ({
    xMm: x + W / 2,
    yMm: y + yMm,
    zMm: z + STRIP.zMm,
    lengthMm: STRIP.lengthMm,
    alongX: true,
  }));

/** Means over the cells of the tracer, by 4 × 4 points in each. */
function inCells(s: Shelf): Float64Array {
  const points = Array.from({ length: CELLS[0] * CELLS[1] * 16 }, (_, n) => ({
    xMm: (((n % (CELLS[0] * 4)) + 0.5) * W) / CELLS[0] / 4,
    yMm: ((Math.floor(n / (CELLS[0] * 4)) + 0.5) * D) / CELLS[1] / 4,
    zMm: LOW,
  }));
  const cells = new Float64Array(CELLS[0] * CELLS[1]);
  ppfdAtPoints(s, [strip], points).forEach((value, n) => {
    const [i, j] = [n % (CELLS[0] * 4), Math.floor(n / (CELLS[0] * 4))];
    const at = Math.floor(j / 4) * CELLS[0] + Math.floor(i / 4);
    cells[at] = (cells[at] ?? 0) + value / 16;
  });
  return cells;
}

const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0);
const BATCHES = 20;

/** A bay as computed against the tracer, with the tracer's own error. */
export interface Compared {
  /** Means over the bay, µmol m⁻² s⁻¹, and one standard error of the traced one. */
  found: number;
  traced: number;
  error: number;
  /** Σ ((found − traced)/error)² over the cells, and the value that chance passes once in 100,000. */
  cells: number;
  cellsMost: number;
  /** The cell that is computed as the least over the mean, and what the tracer says there. */
  minToMean: { found: number; traced: number; error: number };
}

/** Photons are sent in batches, whose spread is the tracer's error (batch means; Law 2015, 9.5). */
export function compare(s: Shelf, sheets: Sheet[], strips: Strip[], photons: number): Compared {
  const each = Math.ceil(photons / BATCHES);
  const batches = Array.from({ length: BATCHES }, (_, k) => {
    const landed = traceScene(sheets, strips, each, `batch ${k}`).get('A');
    if (!landed) throw new Error('a counting sheet named A is expected');
    return landed;
  });
  const cellM2 = (W * D * 1e-6) / (CELLS[0] * CELLS[1]);
  const scale = (STRIP.fluxUmolS * strips.length) / cellM2;
  const cellsOf = (of: Float64Array[]) =>
    Float64Array.from(of[0] ?? [], (_, i) => (scale * sum(of.map((b) => b[i] ?? 0))) / of.length);
  const traced = cellsOf(batches);
  const found = inCells(s);
  const mean = (cells: Float64Array) => sum(cells) / cells.length;
  const spread = (values: number[]) => {
    const middle = sum(values) / values.length;
    return Math.sqrt(sum(values.map((v) => (v - middle) ** 2)) / (values.length - 1) / BATCHES);
  };
  const total = batches.length * each;
  // A cell counts few photons: its error is that of a count.
  const cellError = traced.map((value) => Math.sqrt((value * scale) / total));
  const n = found.length;
  const least = found.indexOf(Math.min(...found));
  return {
    found: mean(found),
    traced: mean(traced),
    error: spread(batches.map((b) => mean(b.map((value) => value * scale)))),
    cells: sum(found.map((v, i) => ((v - (traced[i] ?? 0)) / (cellError[i] ?? 1)) ** 2)),
    // Wilson & Hilferty 1931: the quantile of χ² at 99.999 %.
    cellsMost: n * (1 - 2 / (9 * n) + 4.265 * Math.sqrt(2 / (9 * n))) ** 3,
    minToMean: {
      found: Math.min(...found) / mean(found),
      traced: (traced[least] ?? NaN) / mean(traced),
      error: (cellError[least] ?? 0) / mean(traced),
    },
  };
}

export const faced = (faces: Partial<Record<Side, Facing>>, reflectances = open): Shelf =>
  bay({ faces, reflectances });
