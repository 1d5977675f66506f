import { gridThatFits, letterOf } from '../engine/geometry';
import type { FloodPlan } from '../../shared-types/flood';
import type { UnitSystem } from '../../shared-types/window/locale';
import type { LightPlan } from '../../shared-types/light';
import { PLAN_FORMAT, PLAN_VERSION } from '../../shared-types/plan';
import type { Plan } from '../../shared-types/plan';
import type {
  Board,
  BoardDirection,
  Lamp,
  LampKind,
  PotGrid,
  Rack,
  Shelf,
  Tray,
} from '../../shared-types/rack';

/** What a new thing looks like before the person says otherwise: common sizes of the trade. */

const SHELF_MM = { width: 1200, depth: 600, clearance: 450, thickness: 50, lowest: 300 };
/** Room left between a tray and the shelf's sides, and between two trays. */
const MARGIN_MM = 25;
/** Strips hang a little under the shelf above, where their clips put them. */
const LAMP_DROP_MM = 30;

const usualLight: LightPlan = {
  photoperiodHours: 16,
  canopyAt: 'midway',
  targetPpfdUmol: null,
  lowestMinToMean: 0.7,
  readings: [],
  electricityPricePerKwh: null,
  currency: '',
};

/** A plan with an empty rack and nothing decided. */
export function emptyPlan(title: string, units: UnitSystem = 'metric'): Plan {
  return {
    format: PLAN_FORMAT,
    version: PLAN_VERSION,
    title: title.trim() || 'Untitled trial',
    notes: '',
    display: { lengths: units },
    nextId: 1,
    runId: 'run0',
    rack: { shelves: [], lampKinds: [] },
    light: usualLight,
    flood: null,
    trial: null,
    layout: null,
    records: { values: {}, second: {}, marks: {}, incidents: [] },
    acceptedNotices: [],
  };
}

export const nextShelfNumber = (shelves: readonly Shelf[]): number =>
  Math.max(0, ...shelves.map((shelf) => shelf.number)) + 1;

/** The next shelf up: as wide and deep as the topmost one, and standing on top of its bay. */
export function newShelf(id: string, shelves: readonly Shelf[]): Shelf {
  const top = shelves.reduce<Shelf | undefined>(
    (best, shelf) => (best && best.heightMm >= shelf.heightMm ? best : shelf),
    undefined,
  );
  return {
    id,
    number: nextShelfNumber(shelves),
    ...(top?.stands && { stands: top.stands }),
    widthMm: top?.widthMm ?? SHELF_MM.width,
    depthMm: top?.depthMm ?? SHELF_MM.depth,
    heightMm: top ? top.heightMm + top.clearanceMm + SHELF_MM.thickness : SHELF_MM.lowest,
    clearanceMm: top?.clearanceMm ?? SHELF_MM.clearance,
    ratedLoadKg: null,
    canopy: top?.canopy ?? { plantingMm: 80, harvestMm: 200 },
    // A painted board above, leaves that keep most of the light, and four open sides.
    reflectances: top?.reflectances ?? {
      above: 0.5,
      canopy: 0.1,
      front: 0,
      back: 0,
      left: 0,
      right: 0,
    },
    trays: [],
    lamps: [],
  };
}

/** A white board across or along the middle of a shelf, down to the rims of its pots. */
export function newBoard(shelf: Shelf, direction: BoardDirection): Omit<Board, 'id'> {
  const rims = shelf.trays.flatMap(({ grid }) => (grid ? [grid.potHeightMm] : []));
  return {
    direction,
    atMm: (direction === 'across' ? shelf.widthMm : shelf.depthMm) / 2,
    // A melamine board, as any timber yard has it (common practice).
    thicknessMm: 18,
    reflectance: 0.85,
    downToMm: Math.min(rims.length > 0 ? Math.max(...rims) : 90, shelf.clearanceMm / 2),
  };
}

/** First letter that no tray of the shelf carries. */
export function freeTrayLetter(trays: readonly { letter: string }[]): string {
  const taken = new Set(trays.map((tray) => tray.letter));
  let number = 1;
  while (taken.has(letterOf(number))) number++;
  return letterOf(number);
}

/**
 * A tray that fills an empty shelf up to a margin; on a shelf with trays, one of the last tray's
 * size to its right, or behind it, wherever it fits, else a margin aside so that it can be seen.
 */
export function newTray(id: string, shelf: Shelf): Tray {
  const last = shelf.trays.at(-1);
  const letter = freeTrayLetter(shelf.trays);
  if (!last) {
    const widthMm = Math.max(shelf.widthMm - 2 * MARGIN_MM, shelf.widthMm / 2);
    const depthMm = Math.max(shelf.depthMm - 2 * MARGIN_MM, shelf.depthMm / 2);
    return {
      id,
      letter,
      xMm: (shelf.widthMm - widthMm) / 2,
      yMm: (shelf.depthMm - depthMm) / 2,
      widthMm,
      depthMm,
      rimHeightMm: 60,
      grid: null,
    };
  }
  const rightMm = last.xMm + last.widthMm + MARGIN_MM;
  const behindMm = last.yMm + last.depthMm + MARGIN_MM;
  const place =
    rightMm + last.widthMm <= shelf.widthMm
      ? { xMm: rightMm, yMm: last.yMm }
      : behindMm + last.depthMm <= shelf.depthMm
        ? { xMm: last.xMm, yMm: behindMm }
        : { xMm: last.xMm + MARGIN_MM, yMm: last.yMm + MARGIN_MM };
  return { ...last, ...place, id, letter };
}

/**
 * Round 100 mm pots, 90 mm high, 120 mm apart, as many as stand inside the tray. At least one pot,
 * also where none fits: then the rack's notices say so.
 */
export function newGrid(
  tray: Pick<Tray, 'widthMm' | 'depthMm'>,
  pots: Partial<
    Pick<PotGrid, 'pattern' | 'pitchXMm' | 'pitchYMm' | 'potDiameterMm' | 'potHeightMm'>
  > = {},
): PotGrid {
  const potDiameterMm = pots.potDiameterMm ?? 100;
  const pitchXMm = pots.pitchXMm ?? potDiameterMm * 1.2;
  const pitchYMm = pots.pitchYMm ?? potDiameterMm * 1.2;
  const pattern = pots.pattern ?? 'square';
  const fits = gridThatFits(tray.widthMm, tray.depthMm, {
    diameterMm: potDiameterMm,
    pitchXMm,
    pitchYMm,
    pattern,
  });
  const any = fits.rows > 0 && fits.columns > 0;
  return {
    pattern,
    rows: any ? Math.min(fits.rows, 200) : 1,
    columns: any ? Math.min(fits.columns, 200) : 1,
    pitchXMm,
    pitchYMm,
    potDiameterMm,
    potHeightMm: pots.potHeightMm ?? 90,
    firstXMm: any ? fits.firstXMm : tray.widthMm / 2,
    firstYMm: any ? fits.firstYMm : tray.depthMm / 2,
    guardRing: false,
    guards: [],
    empty: [],
  };
}

/** A white LED strip for a 1200 mm shelf. */
export function newLampKind(id: string): LampKind {
  return {
    id,
    name: 'LED strip',
    shape: 'strip',
    lengthMm: 1150,
    widthMm: 20,
    emission: { kind: 'lambertian' },
    output: { kind: 'watts', efficacyUmolJ: 2.5 },
    powerW: 36,
    massKg: 0.8,
  };
}

/** A lamp over the middle of the shelf, at full output, in one group with its shelf's others. */
export function newLamp(id: string, kindId: string, shelf: Shelf): Lamp {
  return {
    id,
    kindId,
    xMm: shelf.widthMm / 2,
    yMm: shelf.depthMm / 2,
    zMm: Math.max(shelf.clearanceMm - LAMP_DROP_MM, 0),
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: 1,
    group: `shelf ${shelf.number}`,
  };
}

/**
 * One zone over all trays: a small submersible pump, a standpipe at 40 mm, a quarter of an hour of
 * water four times a day. Loss and discharge figures are those of plain hose and a sharp edge.
 */
export function newFlood(zoneId: string, rack: Rack): FloodPlan {
  return {
    zones: [
      {
        id: zoneId,
        name: 'zone 1',
        trayIds: rack.shelves.flatMap((shelf) => shelf.trays.map((tray) => tray.id)),
        reservoirL: 100,
        deadVolumeL: 5,
        reservoirLevelMm: 250,
        pump: {
          name: 'pump',
          curve: [
            { headM: 0, flowLMin: 30 },
            { headM: 1.5, flowLMin: 20 },
            { headM: 3, flowLMin: 0 },
          ],
          powerW: 35,
        },
        pipe: { lengthM: 3, boreMm: 20, lossFactor: 3 },
        drain: {
          kind: 'standpipe',
          overflowBoreMm: 40,
          returnBoreMm: 20,
          returnThrough: 'pump',
        },
        dischargeCoefficient: 0.61,
        floodDepthMm: 40,
        residualMm: 2,
        schedule: [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 15 }],
      },
    ],
    media: [],
    rootZoneTopMm: 80,
    leafLineMm: 110,
    leastWetShare: 0.3,
    use: { uptakeMlPerPotDay: 50, evaporationMmDay: 2, topUpDays: 1 },
    slopes: [],
    trayMassKg: 5,
    circuits: [],
  };
}
