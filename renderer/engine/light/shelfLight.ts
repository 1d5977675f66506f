import type { LightReading } from '../../../shared-types/light';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { lightStamp, type HungShelf } from '../lamps';
import { calibrate, scaleIn, type Calibration, type GroupScale } from './calibration';
import type { PointMm } from './sources/direct';
import { shelfModel, type ModelRequest, type ShelfModel } from './model';
import { real } from '../entry';

/** Whether meter readings stand behind a figure. */
export type LightSource = 'estimated' | 'calibrated';

export interface ShelfLightRequest extends ModelRequest {
  /** Meter readings; those of other shelves are ignored. None: the bare estimate. */
  readings?: readonly LightReading[];
  /**
   * What readings made of the lamp groups before something was changed or tried. Where given, the
   * light is estimated with it and no reading is asked.
   */
  scales?: readonly GroupScale[];
}

/** The shelf as drawn, where a treatment has given it other light than that. */
function drawnOtherwise({ drawn, ...shelf }: HungShelf, lampKinds: readonly LampKind[]) {
  const differs = drawn && lightStamp(drawn, lampKinds) !== lightStamp(shelf, lampKinds);
  return differs ? drawn : null;
}

/**
 * Tells the readings that were taken of the lamps and surfaces as they are. A reading that does not
 * say of what it is was taken of the shelf as drawn.
 */
function holding(
  readings: readonly LightReading[],
  shelf: Shelf,
  lampKinds: readonly LampKind[],
): (reading: LightReading) => boolean {
  const asDrawn = drawnOtherwise(shelf, lampKinds) === null;
  if (readings.every(({ of }) => of === undefined)) return () => asDrawn;
  const now = lightStamp(shelf, lampKinds);
  return ({ of }) => (of === undefined ? asDrawn : of === now);
}

/** The light of one shelf made ready: from its lamps' figures, and from readings where there are. */
export interface ShelfLight {
  source: LightSource;
  calibration: Calibration | null;
  /** A calibration that is too strange to be believed: the light stays estimated. */
  withheld: Calibration | null;
  /** Ids of readings taken of other lamps or surfaces than are there now. */
  outdated: readonly string[];
  /** The estimate without calibration. */
  model: ShelfModel;
  /** PPFD (µmol m⁻² s⁻¹) on a level, upward facing receiver at each point. */
  at: (points: readonly PointMm[]) => Float64Array;
}

/**
 * Makes ready the light of a shelf. Throws where a lamp makes no sense or a closed bay absorbs
 * nothing. Every figure of the shelf (pots, contours, tables) comes from here.
 */
export function shelfLight(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  request: ShelfLightRequest,
): ShelfLight {
  const model = shelfModel(shelf, lampKinds, request);
  if (request.scales) {
    const scaleOf = scaleIn(request.scales);
    return {
      source: 'estimated',
      calibration: null,
      withheld: null,
      outdated: [],
      model,
      at: (points) => model.at(points, scaleOf),
    };
  }
  const readings = (request.readings ?? []).filter((reading) => reading.shelfId === shelf.id);
  const holds = holding(readings, shelf, lampKinds);
  const drawn = drawnOtherwise(shelf, lampKinds);
  const heldDrawn = drawn ? holding(readings, drawn, lampKinds) : () => false;
  const outdated = readings
    .filter((reading) => !holds(reading) && !heldDrawn(reading))
    .map(({ id }) => id);
  const fitted = readings.length > 0 ? calibrate(model, readings, shelf, holds) : null;
  if (drawn && !fitted)
    return { ...carriedOver(shelf, drawn, lampKinds, request, model), outdated };
  const withheld = fitted?.implausible ? fitted : null;
  const calibration = withheld ? null : fitted;
  if (!calibration) {
    const at = (points: readonly PointMm[]) => model.at(points);
    return { source: 'estimated', calibration, withheld, outdated, model, at };
  }
  return {
    source: 'calibrated',
    calibration,
    withheld,
    outdated,
    model,
    at: (points) => {
      const scaled = model.at(points, calibration.scaleOf);
      points.forEach((p, i) => {
        scaled[i] = real(scaled, i) * calibration.correctionAt(p.xMm, p.yMm);
      });
      return scaled;
    },
  };
}

/**
 * The light under lamps that a treatment has changed, by what readings of the shelf as drawn make of
 * its lamp groups: a lamp that is dimmed gives its share of what it gave.
 */
function carriedOver(
  shelf: Shelf,
  drawn: Shelf,
  lampKinds: readonly LampKind[],
  request: ShelfLightRequest,
  model: ShelfModel,
): Omit<ShelfLight, 'outdated'> {
  const { calibration, withheld } = shelfLight(drawn, lampKinds, request);
  const scales = calibration?.scales ?? [];
  const read = new Set(scales.map(({ group }) => group));
  const scaleOf = scaleIn(scales);
  return {
    source:
      calibration && shelf.lamps.every(({ group }) => read.has(group)) ? 'calibrated' : 'estimated',
    calibration,
    withheld,
    model,
    at: (points) => (calibration ? model.at(points, scaleOf) : model.at(points)),
  };
}
