/**
 * How often the ± (95 %) that is stated of a shelf's light holds the truth, in rooms that differ from
 * what is drawn by ranges fixed beforehand. Sources rarely say what a range is, so it is drawn in three
 * ways: 95 of 100 of a normal within it; even between its ends; or, range by range, either.
 *
 * | what | range | source |
 * | --- | --- | --- |
 * | photon flux of all lamps against their label | ±10 % | US Department of Energy, LED Lighting Facts: verification tolerance of lumens, −9.6 % |
 * | one lamp against the others; one group against the others | ±5 % each | common practice, no source |
 * | canopy or hanging height, whole shelf | ±10 mm | common practice, no source |
 * | place of each lamp, along and across | ±10 mm | common practice, no source |
 * | reflectance of each face | ±15 % of it | published whites .8 to .9; rest common practice |
 * | light of the room on the shelf | 0 to 2 µmol m⁻² s⁻¹, even | 500 lx of white light, a quarter of it reaching in |
 * | calibration of a quantum sensor | ±5 % | LI-COR, factory calibration of quantum sensors |
 * | its directional error, grows with the angle | ±2 % at 45°, ±5 % at 75° | Apogee Instruments, manual of the MQ-100 |
 * | repeatability | ±1 % | Apogee Instruments, the same |
 * | place of the sensor; its height | ±10 mm; ±5 mm | common practice, no source |
 * | lux per PPFD of the lamps' spectrum | the published range of the spectrum | `luxSpectra` |
 *
 * The truth is computed by the program's own light, which is judged elsewhere: judged here is what is said
 * of not knowing the room.
 */
import { potLight } from '../../renderer/engine/light/potLight';
import { ppfdAtPoints } from '../../renderer/engine/light/field';
import { stream, type Stream } from '../../renderer/engine/trial/stream';
import type { LightReading } from '../../shared-types/light';
import type { Lamp, Rack, Reflectances, Shelf } from '../../shared-types/rack';
import { gridOf, kindOf, lampOf, shelfOf, trayOf } from '../builders/rackParts';
import { lightPlan } from '../engine/light/racks';

export const readingCounts = [0, 1, 3, 6, 20] as const;
export type Meter = 'ppfd' | 'lux';
const LUX = { factor: 71, lowest: 62, highest: 80 };

export const shapes = ['normal', 'even', 'either'] as const;
/** How a range is drawn: normal, 95 of 100 within; even between its ends; or each time one of the two. */
export type Shape = (typeof shapes)[number];

const pick = <T>(draw: Stream, list: readonly T[]): T => {
  const found = list[draw.integer(list.length)];
  if (found === undefined) throw new Error('an empty list');
  return found;
};
const between = (draw: Stream, low: number, high: number) => low + (high - low) * draw.fraction();
function within(draw: Stream, half: number, shape: Shape): number {
  switch (shape) {
    case 'normal':
      return (half / 1.96) * draw.normal();
    case 'even':
      return half * (2 * draw.fraction() - 1);
    case 'either':
      return within(draw, half, draw.fraction() < 0.5 ? 'normal' : 'even');
    default:
      return shape satisfies never;
  }
}

/** A shelf as drawn: one to four strips in one or two groups over 15 to 60 pots. */
export function drawnShelf(draw: Stream): Rack {
  const widthMm = Math.round(between(draw, 700, 1500));
  const depthMm = Math.round(between(draw, 350, 700));
  const clearanceMm = Math.round(between(draw, 300, 500));
  const side = () => pick(draw, [0, 0.85]);
  const lampCount = 1 + draw.integer(4);
  const grouped = draw.fraction() < 0.5;
  const lengthMm = Math.round(widthMm * between(draw, 0.6, 0.95));
  const rows = 3 + draw.integer(2);
  const columns = 5 + draw.integer(10);
  const shelf = shelfOf({
    widthMm,
    depthMm,
    clearanceMm,
    canopy: { plantingMm: Math.round(between(draw, 60, 140)), harvestMm: 200 },
    reflectances: {
      above: 0.5,
      canopy: 0.1,
      front: side(),
      back: side(),
      left: side(),
      right: side(),
    },
    trays: [
      trayOf({
        widthMm,
        depthMm,
        grid: gridOf({
          rows,
          columns,
          pitchXMm: widthMm / columns,
          pitchYMm: depthMm / rows,
          firstXMm: widthMm / columns / 2,
          firstYMm: depthMm / rows / 2,
          potDiameterMm: 40,
        }),
      }),
    ],
    lamps: Array.from({ length: lampCount }, (_, i) =>
      lampOf({
        id: `l${i + 1}`,
        xMm: widthMm / 2,
        yMm: ((i + 0.5) * depthMm) / lampCount,
        zMm: clearanceMm - 30,
        group: grouped && i % 2 === 1 ? 'B' : 'A',
      }),
    ),
  });
  const kind = kindOf({
    lengthMm,
    widthMm: 0,
    output: { kind: 'photons', fluxUmolS: between(draw, 30, 90) },
  });
  return { shelves: [shelf], lampKinds: [kind] };
}

export interface Room {
  /** The truth at points of the shelf's own axes, lamps alone and light of the room. */
  at: (points: readonly { xMm: number; yMm: number; zMm: number }[]) => Float64Array;
  heightMm: number;
}

/** The room as it really is behind a shelf as drawn. */
export function realRoom(rack: Rack, draw: Stream, shape: Shape): Room {
  const [shelf] = rack.shelves;
  if (!shelf) throw new Error('a shelf is expected');
  const off = (half: number) => within(draw, half, shape);
  const all = 1 + off(0.1);
  const groups = new Map(shelf.lamps.map(({ group }) => [group, Number(1)]));
  for (const group of groups.keys()) if (groups.size > 1) groups.set(group, 1 + off(0.05));
  const raisedMm = off(10);
  const lamps = shelf.lamps.map((lamp): Lamp => ({
    ...lamp,
    xMm: lamp.xMm + off(10),
    yMm: lamp.yMm + off(10),
    zMm: lamp.zMm + raisedMm,
  }));
  const share = (value: number) => Math.min(0.95, Math.max(0, value * (1 + off(0.15))));
  const { above, canopy, front, back, left, right } = shelf.reflectances;
  const reflectances: Reflectances = {
    above: share(above),
    canopy: share(canopy),
    front: share(front),
    back: share(back),
    left: share(left),
    right: share(right),
  };
  // Each lamp a kind of its own, for a dimming is at most 1.
  const lampKinds = lamps.flatMap((lamp) => {
    const kind = rack.lampKinds.find(({ id }) => id === lamp.kindId);
    if (kind?.output.kind !== 'photons') return [];
    const gives = all * (groups.get(lamp.group) ?? 1) * (1 + off(0.05));
    const output = { kind: 'photons' as const, fluxUmolS: kind.output.fluxUmolS * gives };
    return [{ ...kind, id: `kind of ${lamp.id}`, output }];
  });
  const real: Shelf = {
    ...shelf,
    clearanceMm: shelf.clearanceMm + Math.max(0, raisedMm),
    reflectances,
    lamps: lamps.map((lamp) => ({ ...lamp, kindId: `kind of ${lamp.id}` })),
  };
  const roomUmol = 2 * draw.fraction();
  const heightMm = shelf.canopy.plantingMm;
  return {
    heightMm,
    at: (points) =>
      ppfdAtPoints(real, lampKinds, points, { heightMm }).map((value) => value + roomUmol),
  };
}

/** Readings at random places of the shelf, by a meter with errors of its own. */
export function readingsOf(
  rack: Rack,
  room: Room,
  count: number,
  meter: Meter,
  draw: Stream,
  shape: Shape,
): LightReading[] {
  const [shelf] = rack.shelves;
  if (!shelf) throw new Error('a shelf is expected');
  const off = (half: number) => within(draw, half, shape);
  const calibration = 1 + off(0.05);
  const directional = off(0.05);
  const spectrum = LUX.factor + off((LUX.highest - LUX.lowest) / 2);
  const places = Array.from({ length: count }, () => ({
    xMm: Math.round(between(draw, 0.05, 0.95) * shelf.widthMm),
    yMm: Math.round(between(draw, 0.05, 0.95) * shelf.depthMm),
    zMm: room.heightMm,
  }));
  const held = places.map(({ xMm, yMm, zMm }) => ({
    xMm: xMm + off(10),
    yMm: yMm + off(10),
    zMm: zMm + off(5),
  }));
  const truth = room.at(held);
  return places.map((place, i) => {
    // Off by the whole at 75° from the nearest lamp, by its square towards 0.
    const angle = Math.min(
      ...shelf.lamps.map(({ yMm, zMm }) => Math.atan2(Math.abs(yMm - place.yMm), zMm - place.zMm)),
    );
    const cosine = 1 + directional * Math.min(1, (angle / ((75 * Math.PI) / 180)) ** 2 + 0.2);
    const ppfd = (truth[i] ?? 0) * calibration * cosine * (1 + off(0.01));
    const value = meter === 'lux' ? ppfd * spectrum : ppfd;
    return {
      id: `m${i + 1}`,
      shelfId: shelf.id,
      ...place,
      value,
      unit: meter,
      luxPerPpfd: meter === 'lux' ? LUX.factor : null,
      ...(meter === 'lux' && { luxRange: { lowest: LUX.lowest, highest: LUX.highest } }),
      date: null,
      note: '',
    };
  });
}

export interface CoverageOfPlusMinus {
  rooms: number;
  /** Rooms whose readings were not believed, though all were sound. */
  withheld: number;
  /** Rooms with a reading left out, though all were sound. */
  leftOut: number;
  /** Rooms of which no ± was said. */
  silent: number;
  /** Share of pots whose truth the ± of the pot holds, in %. */
  pots: number;
  /** Share of shelves whose true mean the ± of the mean holds, in %. */
  means: number;
  /** Mean ± of a pot and of the mean, in %. */
  potPlusMinus: number;
  meanPlusMinus: number;
  /** Root mean square error of single pots, in %. */
  potError: number;
}

/** Coverage over seeded rooms. */
export function coverageOfPlusMinus(
  seeds: readonly string[],
  count: number,
  meter: Meter,
  shape: Shape = 'normal',
): CoverageOfPlusMinus {
  const tally = { withheld: 0, leftOut: 0, silent: 0, pots: 0, held: 0, means: 0, meansHeld: 0 };
  let [potSum, meanSum, squares] = [0, 0, 0];
  for (const seed of seeds) {
    const draw = stream(seed, 'room');
    const rack = drawnShelf(draw);
    const room = realRoom(rack, draw, shape);
    const readings = readingsOf(rack, room, count, meter, draw, shape);
    const light = potLight(rack, lightPlan({ readings }));
    if (light.withheld.size > 0) tally.withheld++;
    if ([...light.calibrations.values()].some((c) => c.readings.some((r) => r.outlier)))
      tally.leftOut++;
    const summary = light.shelves.get('s1');
    const mean = summary?.evenness?.mean ?? NaN;
    const ofMean = summary?.uncertainty.plusMinusPercent ?? null;
    if (ofMean === null) {
      tally.silent++;
      continue;
    }
    const pots = [...light.pots.values()];
    const places = pots.map(({ potId }) => placeOf(rack, potId, room.heightMm));
    const truth = room.at(places);
    let sum = 0;
    pots.forEach((pot, i) => {
      const real = truth[i] ?? NaN;
      sum += real;
      const percent = 'plusMinusPercent' in pot ? Number(pot.plusMinusPercent) : ofMean;
      const off = 100 * Math.abs(real / pot.ppfdUmol - 1);
      tally.pots++;
      potSum += percent;
      squares += off * off;
      if (off <= percent) tally.held++;
    });
    tally.means++;
    meanSum += ofMean;
    if (100 * Math.abs(sum / pots.length / mean - 1) <= ofMean) tally.meansHeld++;
  }
  const two = (value: number) => Math.round(100 * value) / 100;
  return {
    rooms: seeds.length,
    withheld: tally.withheld,
    leftOut: tally.leftOut,
    silent: tally.silent,
    pots: two((100 * tally.held) / tally.pots),
    means: two((100 * tally.meansHeld) / tally.means),
    potPlusMinus: two(potSum / tally.pots),
    meanPlusMinus: two(meanSum / tally.means),
    potError: two(Math.sqrt(squares / tally.pots)),
  };
}

function placeOf(rack: Rack, potId: string, zMm: number) {
  const [, row, column] = potId.split(':').map(Number);
  const grid = rack.shelves[0]?.trays[0]?.grid;
  if (!grid || row === undefined || column === undefined) throw new Error(`pot ${potId}`);
  return {
    xMm: grid.firstXMm + (column - 1) * grid.pitchXMm,
    yMm: grid.firstYMm + (row - 1) * grid.pitchYMm,
    zMm,
  };
}
