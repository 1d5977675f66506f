import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { sides, type Lamp, type LampKind } from '../../../shared-types/rack';
import { shelfInRoom } from '../../../renderer/engine/lamps';
import { besidesOf, partsOf } from '../../../renderer/engine/light/around/besides';
import { goesOn, imageOf, imagesOf, mirrored } from '../../../renderer/engine/light/around/mirrors';
import {
  addLampOnPatches,
  FACES,
  type BayBox,
  type FaceGrid,
} from '../../../renderer/engine/light/bay';
import { bayOf } from '../../../renderer/engine/light/bay/bayOf';
import { bayParts } from '../../../renderer/engine/light/parted/bayParts';
import { lampsOfBay } from '../../../renderer/engine/light/parted/underBoards';
import { withLampsClear } from '../../../renderer/engine/light/sources/clear';
import { readyLamps } from '../../../renderer/engine/light/sources/direct';
import { balanceOf, fromOutside, inside, sum } from './photonBalance';
import { kind, lamp, shelf } from './racks';

const grey = { above: 0.7, canopy: 0.1, front: 0.8, back: 0, left: 0.9, right: 0.8 };
const up = { tiltDeg: 180 };
/** A photometric file of lamps that are round about their axis, by the intensity every 15 degrees from it. */
const file = (curve: string): LampKind['emission'] => {
  const head = 'IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 13 1 1 2 0 0 0\n1 1 0\n';
  const angles = Array.from({ length: 13 }, (_, i) => 15 * i).join(' ');
  return { kind: 'file', fileName: 'lamp.ies', text: `${head}${angles}\n0\n${curve}` };
};
const downwards = file('300 295 280 240 170 80 10 0 0 0 0 0 0');
const bothWays = file('120 110 90 60 30 10 0 40 80 120 150 160 165');
const panel = kind({ shape: 'panel', lengthMm: 500, widthMm: 300 });

// Energy is conserved: no source but physics.
describe('photons that a lamp gives are absorbed or escape, within 0.1 %', () => {
  it.each<[string, LampKind, Partial<Lamp>]>([
    ['an uplight 5 mm under a white underside', kind(), { zMm: 445, ...up }],
    ['an uplight that touches the underside', kind(), { zMm: 450, ...up }],
    ['tilted at the underside', kind(), { zMm: 450, tiltDeg: 40 }],
    ['tilted 8 mm under it', kind(), { zMm: 442, tiltDeg: 60 }],
    ['3 mm from the back', kind(), { yMm: 597, zMm: 300 }],
    ['3 mm from a white front, facing it', kind(), { yMm: 3, zMm: 300, tiltDeg: -90 }],
    ['across, 2 mm from the left', kind({ lengthMm: 500 }), { xMm: 2, rotationDeg: 90 }],
    ['turned, near a corner', kind({ lengthMm: 300 }), { xMm: 110, yMm: 110, rotationDeg: 45 }],
    ['sticking out on the left', kind(), { xMm: 480, zMm: 300 }],
    ['sticking out, tilted', kind({ lengthMm: 900 }), { xMm: 100, yMm: 20, rotationDeg: 30 }],
    ['outside altogether', kind({ lengthMm: 300 }), { xMm: -300, zMm: 400 }],
    ['below the canopy, facing down', kind(), { zMm: 30 }],
    ['below the canopy, facing up', kind(), { zMm: 30, ...up }],
    ['a wide strip 6 mm from the underside', kind({ widthMm: 60 }), { zMm: 444, ...up }],
    ['a panel 4 mm under the underside', panel, { zMm: 446, ...up }],
    ['a panel tilted near the back', panel, { yMm: 420, zMm: 350, tiltDeg: 35 }],
    ['a spot 5 mm over the canopy', kind({ shape: 'spot' }), { zMm: 55 }],
    [
      'a narrow beam near the right',
      kind({ lengthMm: 300, emission: { kind: 'beam', fullAngleDeg: 40 } }),
      { xMm: 1190, rotationDeg: 90, tiltDeg: 20 },
    ],
    ['a wide strip half outside', kind({ widthMm: 60 }), { yMm: -10, zMm: 300 }],
    ['a wide strip tilted through the back', kind({ widthMm: 60 }), { yMm: 610, tiltDeg: 70 }],
    ['a wide strip half below the canopy', kind({ widthMm: 60 }), { zMm: 45, tiltDeg: 90 }],
    ['a file lamp 2 mm from the front', kind({ emission: downwards }), { yMm: 2, zMm: 300 }],
    ['a short one there', kind({ lengthMm: 100, emission: downwards }), { yMm: 2, zMm: 300 }],
    ['one that shines up too, at the underside', kind({ emission: bothWays }), { zMm: 445 }],
    [
      'a wide one half outside',
      kind({ lengthMm: 200, widthMm: 40, emission: downwards }),
      { yMm: -5 },
    ],
    ['a file spot at the canopy', kind({ shape: 'spot', emission: downwards }), { zMm: 53 }],
  ])('%s', (_, k, change) => {
    expect(Math.abs(balanceOf(k, lamp(change), grey))).toBeLessThan(0.001);
  });

  it('random bays and lamps', () => {
    const random = seedrandom('photons kept');
    const between = (low: number, high: number) => low + random() * (high - low);
    const pick = <T>(...of: [T, ...T[]]): T => of[Math.floor(random() * of.length)] ?? of[0];
    for (let n = 0; n < 8; n++) {
      const shape = pick('strip', 'panel', 'spot');
      const k = kind({
        shape,
        lengthMm: between(50, 1300),
        widthMm: shape === 'panel' ? between(5, 300) : pick(0, between(5, 60)),
        emission: pick<LampKind['emission']>(
          { kind: 'lambertian' },
          { kind: 'beam', fullAngleDeg: between(30, 150) },
          // Of panels a file's light takes long to add up.
          ...(shape === 'panel' ? [] : [downwards, bothWays]),
        ),
      });
      const l = lamp({
        xMm: pick(between(-100, 1300), between(0, 10)),
        yMm: pick(between(-50, 650), between(590, 600)),
        zMm: pick(between(60, 440), between(441, 450)),
        rotationDeg: pick(0, 90, between(0, 180)),
        tiltDeg: pick(0, 180, between(-180, 180)),
      });
      const share = () => pick(0, between(0, 0.95));
      const reflectances = {
        above: share(),
        canopy: between(0, 0.3),
        front: share(),
        back: share(),
        left: share(),
        right: share(),
      };
      const off = balanceOf(k, l, reflectances);
      expect([n, k, l, off]).toSatisfy(() => Math.abs(off) < 0.001);
    }
  });
});

/** The sum over all faces of what lands on them, µmol s⁻¹. */
const landing = (box: BayBox, direct: Float64Array) =>
  sum(box.areaM2.map((area, i) => area * (direct[i] ?? 0)));

/** An upright face by itself with each of its rows cut further. */
function cutUp(grid: FaceGrid, times: number): FaceGrid {
  const [x, y, z] = grid.sideJ;
  return {
    ...grid,
    first: 0,
    up: grid.up * times,
    sideJ: [x / times, y / times, z / times],
    patchAreaM2: grid.patchAreaM2 / times,
  };
}

describe('photons that go on', () => {
  it('from foil to foil are neither lost nor made: absorbed, scattered and escaping make all', () => {
    const foil = { kind: 'foil' as const, specular: 0.8 };
    const rho = { above: 0.7, canopy: 0.1, front: 0, back: 0.9, left: 0.95, right: 0.9 };
    for (const change of [{}, { yMm: 590 }, { xMm: 700, zMm: 446, tiltDeg: 150 }]) {
      const s = shelf({
        clearanceMm: 450,
        lamps: [lamp(change)],
        reflectances: rho,
        faces: { back: foil, left: foil, right: foil },
      });
      const box = bayOf(s, 50);
      const [ready] = readyLamps(withLampsClear(s), [kind({ lengthMm: 900 })]);
      if (!box || !ready) throw new Error('a bay with a lamp is expected');
      const images = imagesOf(s);
      const seen = [{ m: 0, n: 0, lamp: ready }].concat(
        images.map((image) => ({ ...image, lamp: imageOf(ready, image, s) })),
      );
      const ends = seen.map(({ m, n, lamp: one }) =>
        sum(
          FACES.map((face) => {
            const onFace = landing(box, addLampOnPatches(box, one, [box.faces[face]]));
            const side = sides.find((name) => name === face);
            const further = side && goesOn({ m, n }, side, images) ? mirrored(s, side) : 0;
            return onFace * (1 - further);
          }),
        ),
      );
      expect(Math.abs(sum(ends) / ready.fluxUmolS - 1)).toBeLessThan(0.001);
    }
  });

  it('through the gap between two shelves land on the faces of the bay that they enter', () => {
    const shelves = [0, 1].map((i) =>
      shelf({
        id: `s${i + 1}`,
        number: i + 1,
        clearanceMm: 450,
        stands: { xMm: 1240 * i, yMm: 0, turnDeg: 0 },
        canopy: { plantingMm: 50, harvestMm: 50 },
        reflectances: { above: 0.7, canopy: 0.1, front: 0.8, back: 0, left: 0, right: 0 },
        lamps: i === 0 ? [] : [lamp({ zMm: 400 }), lamp({ id: 'l2', xMm: 30, rotationDeg: 90 })],
      }),
    );
    const [own] = shelves;
    if (!own) throw new Error('a shelf is expected');
    const seen = shelfInRoom(own, { shelves });
    const box = bayOf(seen, 50);
    const lampKinds = [kind({ lengthMm: 500 })];
    const [part] = partsOf(seen, lampKinds);
    if (!box || !part) throw new Error('a bay is expected');
    const asked = { shelf: seen, part, box, heightMm: 50, lampKinds };
    const [beside] = besidesOf({ ...asked, boxOf: (one, mm) => bayOf(one, mm) });
    for (const one of beside?.lamps ?? []) {
      const through = landing(box, addLampOnPatches(box, one, [fromOutside(box.faces.right)]));
      const landed = landing(box, addLampOnPatches(box, one, inside(box)));
      expect(through).toBeGreaterThan(0.001 * one.fluxUmolS);
      // Of the lamp's own photons, as all that it gives is counted.
      expect(Math.abs(landed - through) / one.fluxUmolS).toBeLessThan(0.001);
    }
    expect(beside?.lamps).toHaveLength(2);
  });

  it('beneath a board land on the faces of the bay beyond', () => {
    const board = { id: 'w1', direction: 'across' as const, atMm: 600, thicknessMm: 18 };
    const s = shelf({
      clearanceMm: 450,
      lamps: [lamp({ xMm: 290 }), lamp({ id: 'l2', xMm: 480, rotationDeg: 90, tiltDeg: 30 })],
      boards: [{ ...board, reflectance: 0.85, downToMm: 130 }],
      bays: [{ id: 'b1' }, { id: 'b2' }],
    });
    const parts = bayParts(s, [kind({ lengthMm: 500 })]);
    const [, beyond] = parts;
    const box = beyond && bayOf(beyond.shelf, 50);
    if (!beyond || !box) throw new Error('a bay beyond the board is expected');
    const under = lampsOfBay(s, parts, beyond, 50).under.flatMap(({ lamps }) => lamps);
    for (const one of under) {
      // The shadow's edge falls within 3 mm of that of a patch: the mouth is cut finer.
      const mouth = fromOutside(cutUp(box.faces.left, 16));
      const sheet = { ...box, count: mouth.across * mouth.up };
      const through = mouth.patchAreaM2 * sum(addLampOnPatches(sheet, one, [mouth]));
      const landed = landing(box, addLampOnPatches(box, one, inside(box)));
      expect(through).toBeGreaterThan(0.001 * one.fluxUmolS);
      expect(Math.abs(landed - through) / one.fluxUmolS).toBeLessThan(0.001);
    }
    expect(under).toHaveLength(2);
  });
});
