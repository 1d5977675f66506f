import type { Lamp, Shelf } from '../../../../shared-types/rack';
import { lampFrameOf } from './frame';

/** A lit face in the plane of a surface would light nothing of it: it is taken to clear it by so much. */
const LEAST_MM = 1;
const STRAIGHT_AWAY = 1 - 1e-9;

/** A shelf whose lamps clear its surfaces, as what lands on these is counted. */
export function withLampsClear(shelf: Shelf): Shelf {
  const lamps = shelf.lamps.map((lamp) => clearOfFaces(lamp, shelf));
  return lamps.every((lamp, i) => lamp === shelf.lamps[i]) ? shelf : { ...shelf, lamps };
}

/**
 * A lamp that lies in a surface of its bay, moved off it by a millimetre where it sends any light
 * that way: photons must land somewhere. One that faces straight away stays where it is.
 */
function clearOfFaces(lamp: Lamp, shelf: Shelf): Lamp {
  const { nx, ny, nz } = lampFrameOf(lamp);
  const clear = (at: number, span: number, facing: number) => {
    if (at >= 0 && at < LEAST_MM && facing < STRAIGHT_AWAY) return LEAST_MM;
    if (at <= span && at > span - LEAST_MM && -facing < STRAIGHT_AWAY) return span - LEAST_MM;
    return at;
  };
  const xMm = clear(lamp.xMm, shelf.widthMm, nx);
  const yMm = clear(lamp.yMm, shelf.depthMm, ny);
  const zMm = lamp.zMm <= 0 ? lamp.zMm : clear(lamp.zMm, shelf.clearanceMm, nz);
  return xMm === lamp.xMm && yMm === lamp.yMm && zMm === lamp.zMm
    ? lamp
    : { ...lamp, xMm, yMm, zMm };
}
