import { contours as contourGenerator } from 'd3-contour';
import type { LightPlan } from '../../shared-types/light';
import type { LampKind, Rack, Shelf } from '../../shared-types/rack';
import type { Plan } from '../../shared-types/plan';
import { canopyHeightMm } from '../engine/geometry';
import { potLight, shelfField, type PotLight, type ShelfField } from '../engine/light';
import { memo } from './memo';

const potLightMemo = memo((rack: Rack, light: LightPlan): PotLight => potLight(rack, light));

/** Light at every pot, and summaries by tray and shelf. */
export function potLightOf(plan: Plan): PotLight {
  return potLightMemo(plan.rack, plan.light);
}

const ppfdMemo = memo(
  (light: PotLight): ReadonlyMap<string, number> =>
    new Map([...light.pots].map(([id, value]) => [id, value.ppfdUmol])),
);

export function ppfdByPotOf(plan: Plan): ReadonlyMap<string, number> {
  return ppfdMemo(potLightOf(plan));
}

export interface Contour {
  level: number;
  label: string;
  rings: (readonly [number, number])[][];
}

export interface FieldPicture {
  field: ShelfField;
  stepXMm: number;
  stepYMm: number;
  contours: Contour[];
}

const fieldMemo = memo(
  (shelf: Shelf, lampKinds: readonly LampKind[], heightMm: number): FieldPicture => {
    const field = shelfField(shelf, lampKinds, { heightMm, gridMm: FIELD_GRID_MM });
    return {
      field,
      stepXMm: shelf.widthMm / field.columns,
      stepYMm: shelf.depthMm / field.rows,
      contours: contoursOf(field, shelf),
    };
  },
  24,
);

/** Fine enough for smooth contours; the pots' own figures are computed at the pots. */
export const FIELD_GRID_MM = 15;

/** The light over one shelf as a picture. null where its lamps cannot be made sense of. */
export function fieldOf(plan: Plan, shelf: Shelf): FieldPicture | null {
  try {
    return fieldMemo(shelf, plan.rack.lampKinds, canopyHeightMm(shelf, plan.light.canopyAt));
  } catch {
    // The reason stands in `potLightOf(plan).problems` and in a notice.
    return null;
  }
}

/** Lowest and highest PPFD over all shelves' pictures, so that one legend serves the rack. */
export function lightRangeOf(plan: Plan): { low: number; high: number } | null {
  let low = Infinity;
  let high = -Infinity;
  for (const shelf of plan.rack.shelves) {
    if (shelf.lamps.length === 0) continue;
    for (const value of fieldOf(plan, shelf)?.field.ppfd ?? []) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return high > low ? { low, high } : null;
}

function contoursOf(field: ShelfField, shelf: Shelf): Contour[] {
  const values = Array.from(field.ppfd);
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!(high > low)) return [];
  const step = niceStep((high - low) / 6);
  const levels: number[] = [];
  for (let level = Math.ceil(low / step) * step; level < high; level += step) levels.push(level);
  const stepX = shelf.widthMm / field.columns;
  const stepY = shelf.depthMm / field.rows;
  const trace = contourGenerator().size([field.columns, field.rows]).smooth(true);
  return levels.map((level) => ({
    level,
    label: String(Number(level.toFixed(6))),
    rings: trace.contour(values, level).coordinates.flatMap((polygon) =>
      polygon.map((ring) =>
        // The generator counts cells from their corner, so that 0.5 is the first cell's centre.
        ring.map((point): readonly [number, number] => [
          (point[0] ?? 0) * stepX,
          (point[1] ?? 0) * stepY,
        ]),
      ),
    ),
  }));
}

/** 1, 2 or 5 times a power of ten, nearest from above. */
function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  const factor = [1, 2, 5, 10].find((f) => f * power >= rough - 1e-12) ?? 10;
  return factor * power;
}
