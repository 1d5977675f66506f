import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import type { Lamp, LampKind, Reflectances, Shelf } from '../../../shared-types/rack';
import {
  addLampOnPatches,
  FACES,
  reflectanceOfPatches,
  solveRadiosity,
  type BayBox,
  type FaceGrid,
} from '../../../renderer/engine/light/bay';
import { bayOf } from '../../../renderer/engine/light/model';
import { partOf, reachOf, atLeast } from '../../../renderer/engine/light/parted/lampPart';
import { withLampsClear } from '../../../renderer/engine/light/sources/clear';
import { lampFrameOf } from '../../../renderer/engine/light/sources/frame';
import { readyLamps } from '../../../renderer/engine/light/sources/direct';
import { kind, lamp, shelf } from './racks';

const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0);
const inside = (box: BayBox) => FACES.map((face) => box.faces[face]);
const fromOutside = (grid: FaceGrid): FaceGrid => {
  const [x, y, z] = grid.normal;
  return { ...grid, normal: [-x, -y, -z] };
};

/** What of a lamp's face lies within its bay, as a share of its photons (conservation is of these). */
function shareWithin(l: Lamp, kindOfLamp: LampKind, s: Shelf, heightMm: number): number {
  const k = kindOfLamp.shape === 'strip' ? { ...kindOfLamp, shape: 'panel' as const } : kindOfLamp;
  const { cx, cy, cz, ux, uy, vz } = lampFrameOf(l);
  const { along, across } = reachOf(k);
  const slices = across[1] > 0 ? 4000 : 1;
  const width = (across[1] - across[0]) / slices;
  const { vx, vy } = lampFrameOf(l);
  let share = 0;
  for (let i = 0; i < slices; i++) {
    const w = across[1] > 0 ? across[0] + (i + 0.5) * width : 0;
    const [x, y, z] = [cx + w * vx, cy + w * vy, cz + w * vz];
    if (z < heightMm || z > s.clearanceMm) continue;
    let reach = atLeast(along, x, ux, 0);
    reach = atLeast(reach, -x, -ux, -s.widthMm);
    reach = atLeast(reach, y, uy, 0);
    reach = atLeast(reach, -y, -uy, -s.depthMm);
    share += (partOf(l, k, reach, across)?.share ?? 0) / slices;
  }
  return share;
}

/** Photons absorbed and let out over those that a lamp gives within the bay or sends into it. */
function balanceOf(k: LampKind, l: Lamp, reflectances: Reflectances, heightMm = 50): number {
  const s = shelf({ lamps: [l], reflectances, clearanceMm: 450 });
  const box = bayOf(s, heightMm);
  const [ready] = readyLamps(withLampsClear(s), [k]);
  if (!box || !ready) throw new Error('a bay with a lamp is expected');
  const direct = addLampOnPatches(box, ready, inside(box));
  const entering = addLampOnPatches(box, ready, inside(box).map(fromOutside));
  const rho = reflectanceOfPatches(box, reflectances);
  const { arriving } = solveRadiosity(
    box,
    rho,
    direct.map((value, i) => value * (rho[i] ?? 0)),
  );
  // An open side reflects nothing: what it absorbs escapes.
  const kept = sum(
    box.areaM2.map(
      (area, i) => area * (1 - (rho[i] ?? 0)) * ((direct[i] ?? 0) + (arriving[i] ?? 0)),
    ),
  );
  const entered = sum(box.areaM2.map((area, i) => area * (entering[i] ?? 0)));
  const given = ready.fluxUmolS * shareWithin(l, k, s, heightMm);
  return (kept - entered - given) / ready.fluxUmolS;
}

const grey = { above: 0.7, canopy: 0.1, front: 0.8, back: 0, left: 0.9, right: 0.8 };
const up = { tiltDeg: 180 };
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
  ])('%s', (_, k, change) => {
    expect(Math.abs(balanceOf(k, lamp(change), grey))).toBeLessThan(0.001);
  });

  it('random bays and lamps', () => {
    const random = seedrandom('photons kept');
    const between = (low: number, high: number) => low + random() * (high - low);
    const pick = <T>(...of: [T, ...T[]]): T => of[Math.floor(random() * of.length)] ?? of[0];
    for (let n = 0; n < 10; n++) {
      const shape = pick('strip', 'panel', 'spot');
      const k = kind({
        shape,
        lengthMm: between(50, 1300),
        widthMm: shape === 'panel' ? between(5, 300) : 0,
        emission: pick({ kind: 'lambertian' }, { kind: 'beam', fullAngleDeg: between(30, 150) }),
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
