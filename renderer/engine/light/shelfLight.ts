import type { LightReading } from '../../../shared-types/light';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { fluxOfLamps, lightStamp, type ShelfInRoom } from '../lamps';
import {
  calibrate,
  scaleIn,
  type Calibration,
  type EstimateKnown,
  type GroupScale,
  type TakenOf,
} from './calibration';
import type { PointMm } from './sources/direct';
import { columnsOf, errorParts, outputUncertainty, PATTERN, type PartsAt } from './errorParts';
import { deviationOf } from './range';
import { shelfModel, type ModelRequest, type ShelfModel } from './model';
import { real } from '../entry';

/** Whether meter readings stand behind a figure; `carried over`: readings from before a change. */
export type LightSource = 'estimated' | 'calibrated' | 'carried over';

export interface ShelfLightRequest extends ModelRequest {
  /** Meter readings; those of other shelves are ignored. None: the bare estimate. */
  readings?: readonly LightReading[];
  /**
   * What readings made of the lamp groups before something was changed or tried. Where given, the
   * light is estimated with it and no reading is asked.
   */
  scales?: readonly GroupScale[];
  /** The shelf with its lamps as worn as they will be; readings stay those of the shelf itself. */
  worn?: Shelf;
}

/** The shelf as drawn, where a treatment has given it other light than that. */
function drawnOtherwise({ drawn, ...shelf }: ShelfInRoom, lampKinds: readonly LampKind[]) {
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
  /** What is not known of the estimate at points. */
  partsAt: (points: readonly PointMm[]) => PartsAt;
  /** The shelf's longer side, by which places are told from each other. */
  sizeMm: number;
  /** Readings are of the shelf as drawn, whose lamps a treatment has changed. */
  changed: boolean;
  /** PPFD (µmol m⁻² s⁻¹) on a level, upward facing receiver at each point. */
  at: (points: readonly PointMm[]) => Float64Array;
}

/**
 * The light once the lamps are more worn than when they were read: point by point the estimate's
 * share of what it was.
 */
function wornLight(
  light: ShelfLight,
  worn: Shelf,
  lampKinds: readonly LampKind[],
  request: ShelfLightRequest,
): ShelfLight {
  const later = shelfModel(worn, lampKinds, request);
  return {
    ...light,
    model: later,
    at: (points) => {
      const [then, now] = [later.at(points), light.model.at(points)];
      return light.at(points).map((ppfd, i) => {
        const whole = real(now, i);
        return whole > 0 ? (ppfd * real(then, i)) / whole : ppfd;
      });
    },
  };
}

/**
 * Makes ready the light of a shelf, its lamps as worn as is asked. Throws where a lamp makes no sense or a closed bay absorbs
 * nothing. Every figure of the shelf (pots, contours, tables) comes from here.
 */
export function shelfLight(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  request: ShelfLightRequest,
): ShelfLight {
  const light = lightAsRead(shelf, lampKinds, request);
  const { worn } = request;
  return worn && worn !== shelf ? wornLight(light, worn, lampKinds, request) : light;
}

function lightAsRead(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  request: ShelfLightRequest,
): ShelfLight {
  const model = shelfModel(shelf, lampKinds, request);
  const partsAt = once(() => errorParts(shelf, lampKinds, model, request));
  const sizeMm = Math.max(shelf.widthMm, shelf.depthMm);
  const bare = { model, partsAt, sizeMm, changed: false };
  if (request.scales) {
    const scaleOf = scaleIn(request.scales);
    return {
      source: 'estimated',
      calibration: null,
      withheld: null,
      outdated: [],
      ...bare,
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
  const standing: TakenOf = (reading) =>
    !holds(reading) ? 'before a change' : reading.takenIn === undefined ? 'now' : 'earlier run';
  const fresh = readings.some((reading) => standing(reading) === 'now');
  const known = () => knownOf(shelf, lampKinds, request, model, partsAt);
  const fitted =
    readings.length > 0 && (fresh || !drawn)
      ? calibrate(model, readings, shelf, standing, known())
      : null;
  if (drawn && !fitted) {
    return { ...bare, ...carriedOver(shelf, drawn, lampKinds, request, model), outdated };
  }
  const withheld = fitted?.implausible ? fitted : null;
  const calibration = withheld ? null : fitted;
  if (!calibration) {
    const at = (points: readonly PointMm[]) => model.at(points);
    return { source: 'estimated', calibration, withheld, outdated, ...bare, at };
  }
  return {
    source: calibration.carried ? 'carried over' : 'calibrated',
    calibration,
    withheld,
    outdated,
    ...bare,
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
): Omit<ShelfLight, 'outdated' | 'partsAt' | 'sizeMm'> {
  const { calibration, withheld } = lightAsRead(drawn, lampKinds, request);
  const scales = calibration?.scales ?? [];
  const read = new Set(scales.map(({ group }) => group));
  const scaleOf = scaleIn(scales);
  return {
    source:
      calibration && shelf.lamps.every(({ group }) => read.has(group)) ? 'calibrated' : 'estimated',
    calibration,
    withheld,
    model,
    changed: calibration !== null,
    at: (points) => (calibration ? model.at(points, scaleOf) : model.at(points)),
  };
}

// Cells over the shelf by which the whole of its light is judged.
const COLUMNS = 10;
const ROWS = 6;

/** What is known of the estimate as a whole before anyone has measured. */
function knownOf(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  { heightMm }: ModelRequest,
  model: ShelfModel,
  partsAt: ShelfLight['partsAt'],
): EstimateKnown {
  const grid = Array.from({ length: COLUMNS * ROWS }, (_, i) => ({
    xMm: (((i % COLUMNS) + 0.5) * shelf.widthMm) / COLUMNS,
    yMm: ((Math.floor(i / COLUMNS) + 0.5) * shelf.depthMm) / ROWS,
    zMm: heightMm,
  }));
  const ppfd = model.at(grid);
  const sum = ppfd.reduce((total, value) => total + value, 0);
  const overall = (column: Float64Array) =>
    sum > 0 ? column.reduce((total, value, i) => total + value * real(ppfd, i), 0) / sum : 0;
  const means = columnsOf(partsAt(grid)).map(overall);
  const areaM2 = (shelf.widthMm * shelf.depthMm) / 1e6;
  const absorbed = 1 - shelf.reflectances.canopy;
  return {
    common: Math.max(LEAST_KNOWN, Math.hypot(...means)),
    uncertaintyAt: (points) => {
      const columns = columnsOf(partsAt(points));
      return Float64Array.from(points, (_, i) =>
        Math.hypot(
          deviationOf(PATTERN),
          ...columns.map((column, k) => real(column, i) - (means[k] ?? 0)),
        ),
      );
    },
    photons: {
      landingUmolS: (sum / grid.length) * areaM2 * absorbed,
      emittedUmolS: fluxOfLamps({ lampKinds }, shelf.lamps),
      tolerance: outputUncertainty(shelf, lampKinds),
    },
  };
}

/** No estimate is known better than this: a share, one standard deviation. */
const LEAST_KNOWN = 0.03;

function once<T extends (...input: never[]) => unknown>(make: () => T): T {
  let made: T | null = null;
  return ((...input: Parameters<T>) => (made ??= make())(...input)) as T;
}
