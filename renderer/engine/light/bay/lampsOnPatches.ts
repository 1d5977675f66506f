import type { ReadyLamp } from '../sources/direct';
import { gaussLegendreRule, type Rule } from '../sources/quadrature';
import type { BayBox, FaceGrid } from './box';
import { add, real } from '../../entry';

const CENTRE = gaussLegendreRule(1);
const COARSE = gaussLegendreRule(2);
const FINER = gaussLegendreRule(3);
const NEAR = gaussLegendreRule(10);
// A rule is good enough where the next coarser one, whose error is far larger, comes this close.
const CENTRE_CLOSE = 0.03;
const COARSE_CLOSE = 0.01;

/** Mean of the lamp's direct light over patch (i, j) of a face, by a product rule. */
function meanOverPatch(
  lamp: ReadyLamp,
  grid: FaceGrid,
  i: number,
  j: number,
  { nodes, weights }: Rule,
): number {
  const [ox, oy, oz] = grid.origin;
  const [ix, iy] = grid.sideI;
  const [, jy, jz] = grid.sideJ;
  const [rx, ry, rz] = grid.normal;
  let sum = 0;
  for (let a = 0; a < nodes.length; a++) {
    const s = i + (1 + real(nodes, a)) / 2;
    for (let b = 0; b < nodes.length; b++) {
      const t = j + (1 + real(nodes, b)) / 2;
      const seen = lamp.perFlux(ox + s * ix, oy + s * iy + t * jy, oz + t * jz, rx, ry, rz);
      sum += real(weights, a) * real(weights, b) * seen;
    }
  }
  return (lamp.fluxUmolS * sum) / 4;
}

function patchMean(lamp: ReadyLamp, grid: FaceGrid, i: number, j: number): number {
  const centre = meanOverPatch(lamp, grid, i, j, CENTRE);
  const coarse = meanOverPatch(lamp, grid, i, j, COARSE);
  if (Math.abs(coarse - centre) <= CENTRE_CLOSE * coarse) return coarse;
  const finer = meanOverPatch(lamp, grid, i, j, FINER);
  if (Math.abs(finer - coarse) <= COARSE_CLOSE * finer) return finer;
  return meanOverPatch(lamp, grid, i, j, NEAR);
}

/**
 * Direct light of one lamp on every patch of the given faces (µmol m⁻² s⁻¹, mean over the patch),
 * added to `sum`. Patches close to the lamp are sampled finely. Lamps are not in each other's way.
 */
export function addLampOnPatches(
  box: BayBox,
  lamp: ReadyLamp,
  faces: readonly FaceGrid[],
  sum: Float64Array = new Float64Array(box.count),
): Float64Array {
  for (const grid of faces) {
    for (let j = 0; j < grid.up; j++) {
      for (let i = 0; i < grid.across; i++) {
        const at = grid.first + j * grid.across + i;
        add(sum, at, patchMean(lamp, grid, i, j));
      }
    }
  }
  return sum;
}
