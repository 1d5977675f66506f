import type { Shelf } from '../../../../shared-types/rack';
import { bayBox, type BayBox, type BaySize, type Cuts } from './box';

// Lamps run level, so that the brightness of a side changes fastest upwards. Halving these again
// changes the PPFD in a white bay with a lamp 42 mm from its back by less than 0.5 % at 50 mm from
// the sides and farther, where pots can stand; at 10 mm from a corner by 2 %.
const LEVEL_PATCH_MM = 100;
const UPRIGHT_PATCH_MM = 50;
const MOST_CUTS = 24;

/**
 * Whole patches along each direction. Upwards a few more where then an edge, such as that of a gap
 * beneath a board, lies nearer to the edge of a patch.
 */
function cutsOf(size: BaySize, edgesMm: readonly number[]): Cuts {
  const cut = (spanMm: number, patchMm: number) =>
    Math.min(MOST_CUTS, Math.max(2, Math.round(spanMm / patchMm)));
  const heightMm = size.topMm - size.bottomMm;
  let z = cut(heightMm, UPRIGHT_PATCH_MM);
  const missed = (cuts: number) =>
    edgesMm.reduce((sum, edgeMm) => {
      const at = ((edgeMm - size.bottomMm) / heightMm) * cuts;
      return sum + Math.abs(at - Math.max(1, Math.round(at))) / cuts;
    }, 0);
  for (let more = z + 1; more <= MOST_CUTS; more++) {
    if (missed(more) < missed(z) - 1e-3) z = more;
  }
  return { x: cut(size.widthMm, LEVEL_PATCH_MM), y: cut(size.depthMm, LEVEL_PATCH_MM), z };
}

// Bays of a rack are mostly alike, and their view factors take longer than all else: a few are kept.
const boxes = new Map<string, BayBox>();
const MOST_BOXES = 8;

function boxOf(size: BaySize, cuts: Cuts): BayBox {
  const key = [...Object.values(size), ...Object.values(cuts)].join(' ');
  const known = boxes.get(key);
  if (known) return known;
  if (boxes.size >= MOST_BOXES) boxes.clear();
  const made = bayBox(size, cuts);
  boxes.set(key, made);
  return made;
}

/** The bay of a shelf above a canopy; null where the canopy has reached the underside above. */
export function bayOf(
  shelf: Shelf,
  heightMm: number,
  edgesMm: readonly number[] = [],
): BayBox | null {
  if (heightMm >= shelf.clearanceMm) return null;
  const size = {
    widthMm: shelf.widthMm,
    depthMm: shelf.depthMm,
    bottomMm: heightMm,
    topMm: shelf.clearanceMm,
  };
  return boxOf(size, cutsOf(size, edgesMm));
}
