import { contours as contourGenerator } from 'd3-contour';
import type { LightPlan, LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { LampKind, Rack, Shelf } from '../../../shared-types/rack';
import { canopyHeightMm, canopyOver } from '../../engine/geometry';
import {
  shelfAfter,
  shelfField,
  shelfInRoom,
  shelvesInRoom,
  type GroupScale,
  type LightBasis,
  type ShelfField,
} from '../../engine/light';
import { burntDaysOf } from './burntDays';
import { lightBasisOf, scalesFor, type LightCounted, type ShelvesAsked } from './potLight';
import { fieldNumber, rounded, unlessRefused } from '../../words';

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

/** Fine enough for smooth contours; the pots' own figures are computed at the pots. */
const FIELD_GRID_MM = 15;

interface Kept {
  lampKinds: readonly LampKind[];
  readings: readonly LightReading[];
  canopyAt: LightPlan['canopyAt'];
  burntDays: number;
  /** Direct light with these factors on the lamp groups; null: all the light. */
  scales: readonly GroupScale[] | null;
  picture: FieldPicture | null;
}

// Shelves are immutable: what was found for one stays true for as long as anyone holds the shelf.
const kept = new WeakMap<Shelf, Kept[]>();
const MOST_KEPT = 8;

type Scales = Kept['scales'];

function keptOf(plan: Plan, shelf: Shelf, scales: Scales): Kept | undefined {
  return kept
    .get(shelf)
    ?.find(
      (k) =>
        k.lampKinds === plan.rack.lampKinds &&
        k.readings === plan.light.readings &&
        k.canopyAt === plan.light.canopyAt &&
        k.burntDays === burntDaysOf(plan, plan.light.canopyAt) &&
        k.scales === scales,
    );
}

function keep(plan: Plan, shelf: Shelf, scales: Scales, field: ShelfField | null) {
  const { lampKinds } = plan.rack;
  const { canopyAt, readings } = plan.light;
  const burntDays = burntDaysOf(plan, canopyAt);
  const picture = field ? pictureOf(field, shelf) : null;
  const before = kept.get(shelf) ?? [];
  const all = [{ lampKinds, readings, canopyAt, burntDays, scales, picture }, ...before];
  kept.set(shelf, all.slice(0, MOST_KEPT));
  return picture;
}

/** The light over one shelf as a picture. null where its lamps cannot be made sense of. */
export function fieldOf(
  plan: Plan,
  shelf: Shelf,
  counted: LightCounted = 'reflected',
): FieldPicture | null {
  const scales = scalesFor(counted, shelf.id);
  const seen = shelfInRoom(shelf, plan.rack);
  const known = keptOf(plan, seen, scales);
  if (known) return known.picture;
  return keep(plan, seen, scales, fieldOfShelf(plan.rack, lightBasisOf(plan), seen, scales));
}

function fieldOfShelf(
  rack: Rack,
  light: LightBasis,
  shelf: Shelf,
  scales: Scales,
): ShelfField | null {
  // A reason to refuse stands in `potLightOf(plan).problems` and in a notice.
  return unlessRefused(() =>
    shelfField(shelf, rack.lampKinds, {
      heightMm: canopyHeightMm(shelf, light.canopyAt),
      heightAt: canopyOver(shelf, light.canopyAt),
      gridMm: FIELD_GRID_MM,
      worn: shelfAfter(shelf, rack.lampKinds, light, light.burntDays ?? 0),
      ...(scales ? { reflected: false, scales } : { readings: light.readings }),
    }),
  );
}

/** Lit shelves whose picture with reflected light has yet to be computed. */
export function shelvesToPicture(plan: Plan): Shelf[] {
  const { shelves } = plan.rack;
  return shelves.filter(
    (shelf) => shelf.lamps.length > 0 && !keptOf(plan, shelfInRoom(shelf, plan.rack), null),
  );
}

/** What is asked of the long work for the shelves of a plan that have no picture yet. */
export const fieldsInputOf = (plan: Plan): ShelvesAsked => ({
  rack: plan.rack,
  light: lightBasisOf(plan),
  shelfIds: shelvesToPicture(plan).map(({ id }) => id),
});

/** Long work: the light over many shelves, reflected light included, by shelf id. */
export function shelfFields(
  input: ShelvesAsked,
  tell: (done: number, total: number) => void,
): Map<string, ShelfField | null> {
  const { rack, light, shelfIds } = input;
  const fields = new Map<string, ShelfField | null>();
  for (const shelf of shelvesInRoom(rack)) {
    if (!shelfIds.includes(shelf.id)) continue;
    fields.set(shelf.id, fieldOfShelf(rack, light, shelf, null));
    tell(fields.size, shelfIds.length);
  }
  return fields;
}

/** Remembers what the long work has found for this plan, so that `fieldOf` gives it at once. */
export function keepFields(plan: Plan, fields: ReadonlyMap<string, ShelfField | null>): void {
  for (const shelf of shelvesInRoom(plan.rack)) {
    const field = fields.get(shelf.id);
    if (field !== undefined) keep(plan, shelf, null, field);
  }
}

/** Lowest and highest PPFD over all shelves' pictures, so that one legend serves the rack. */
export function lightRangeOf(
  plan: Plan,
  counted: LightCounted = 'reflected',
): { low: number; high: number } | null {
  let low = Infinity;
  let high = -Infinity;
  for (const shelf of plan.rack.shelves) {
    if (shelf.lamps.length === 0) continue;
    for (const value of fieldOf(plan, shelf, counted)?.field.ppfd ?? []) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return high > low ? { low, high } : null;
}

/** A computed field as a picture with contours. */
export function pictureOf(
  field: ShelfField,
  shelf: Pick<Shelf, 'widthMm' | 'depthMm'>,
): FieldPicture {
  return {
    field,
    stepXMm: shelf.widthMm / field.columns,
    stepYMm: shelf.depthMm / field.rows,
    contours: contoursOf(field, shelf),
  };
}

function contoursOf(field: ShelfField, shelf: Pick<Shelf, 'widthMm' | 'depthMm'>): Contour[] {
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
    label: fieldNumber(rounded(level, 6)),
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
