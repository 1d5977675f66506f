import type { Lamp, LampKind, Reflectances, Shelf } from '../../../shared-types/rack';
import {
  addLampOnPatches,
  FACES,
  reflectanceOfPatches,
  solveRadiosity,
  type BayBox,
  type FaceGrid,
} from '../../../renderer/engine/light/bay';
import { bayOf } from '../../../renderer/engine/light/bay/bayOf';
import { partOf, reachOf, atLeast } from '../../../renderer/engine/light/parted/lampPart';
import { withLampsClear } from '../../../renderer/engine/light/sources/clear';
import { lampFrameOf } from '../../../renderer/engine/light/sources/frame';
import { readyLamps } from '../../../renderer/engine/light/sources/direct';
import { shelf } from './racks';

export const sum = (values: Iterable<number>) =>
  [...values].reduce((total, value) => total + value, 0);
export const inside = (box: BayBox) => FACES.map((face) => box.faces[face]);
export const fromOutside = (grid: FaceGrid): FaceGrid => {
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

/** Photons absorbed and let out beyond those that a lamp gives within the bay or sends into it, as a share of its own. */
export function balanceOf(k: LampKind, l: Lamp, reflectances: Reflectances, heightMm = 50): number {
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
