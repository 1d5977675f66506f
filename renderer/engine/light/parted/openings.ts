import type { Board, Shelf } from '../../../../shared-types/rack';
import { boardsAlong } from '../../geometry';
import { entry } from '../../entry';
import { ductOf, type BayBox, type FaceGrid } from '../bay';

/** A patch of a board's face that lies, wholly or in part, over the gap beneath the board. */
interface OpenPatch {
  /** Its number in the bay that light leaves, and in the bay that it enters. */
  leaves: number;
  enters: number;
  /** What of the light that arrives there goes on into the other bay. */
  through: number;
  /** What is reflected there: by the board, and by what lies beneath it. */
  rho: number;
  /** What goes on of light that falls straight on the canopy beneath the board; as much comes back. */
  offStrip: number;
}

/** The gap beneath a board as seen from one of the two bays that it joins. */
export interface Opening {
  from: number;
  to: number;
  patches: OpenPatch[];
  /** The face that holds the gap, and its sister across the board, which looks back into the gap. */
  nearMouth: FaceGrid;
  farMouth: FaceGrid;
}

/**
 * The gaps beneath a shelf's boards, each from both sides. Bays are numbered row by row from the
 * front; their boxes are cut alike along the faces that they share.
 */
export function openingsOf(shelf: Shelf, boxes: readonly BayBox[]): Opening[] {
  const across = boardsAlong(shelf, 'across');
  const lengthwise = boardsAlong(shelf, 'lengthwise');
  const columns = across.length + 1;
  const rows = lengthwise.length + 1;
  const found: Opening[] = [];
  const join = (board: Board, a: number, b: number, faces: 'side' | 'depth') => {
    const [first, second] = [entry(boxes, a), entry(boxes, b)];
    const [out, into] =
      faces === 'side'
        ? [first.faces.right, second.faces.left]
        : [first.faces.back, second.faces.front];
    const { canopy } = shelf.reflectances;
    found.push(
      {
        from: a,
        to: b,
        patches: openPatches(first, board, out, into, canopy),
        nearMouth: out,
        farMouth: turned(into),
      },
      {
        from: b,
        to: a,
        patches: openPatches(second, board, into, out, canopy),
        nearMouth: into,
        farMouth: turned(out),
      },
    );
  };
  for (let row = 0; row < rows; row++) {
    across.forEach((board, c) => {
      join(board, row * columns + c, row * columns + c + 1, 'side');
    });
  }
  for (let column = 0; column < columns; column++) {
    lengthwise.forEach((board, r) => {
      join(board, r * columns + column, (r + 1) * columns + column, 'depth');
    });
  }
  return found.filter(({ patches }) => patches.length > 0);
}

const turned = (grid: FaceGrid): FaceGrid => {
  const [x, y, z] = grid.normal;
  return { ...grid, normal: [-x, -y, -z] };
};

function openPatches(
  { size, cuts }: BayBox,
  board: Board,
  out: FaceGrid,
  into: FaceGrid,
  canopy: number,
): OpenPatch[] {
  const gapMm = board.downToMm - size.bottomMm;
  if (gapMm <= 0) return [];
  const duct = ductOf(gapMm, board.thicknessMm, { below: canopy, above: board.reflectance });
  const rowMm = (size.topMm - size.bottomMm) / cuts.z;
  const patches: OpenPatch[] = [];
  for (let j = 0; j < out.up; j++) {
    const open = Math.min(1, gapMm / rowMm - j);
    if (open <= 0) break;
    const rho = (1 - open) * board.reflectance + open * duct.back;
    for (let i = 0; i < out.across; i++) {
      const at = j * out.across + i;
      const through = open * duct.through;
      const offStrip = duct.offStrip;
      patches.push({ leaves: out.first + at, enters: into.first + at, through, rho, offStrip });
    }
  }
  return patches;
}
