import type { Side } from '../../../../shared-types/rack';
import { entry } from '../../entry';
import type { BayBox } from '../bay';
import type { LitBox, Passage } from '../parted/together';
import { addTo, type BayAlone, type ByGroup } from './bayAlone';
import type { Beside } from './besides';
import { outsideKey } from './keys';
import type { Surroundings } from './surroundings';
import { addOnFace, onFace, through } from './wall';

/**
 * Adds what a bay's open sides let in to what its patches give off: from a wall, a room, and the bays of
 * other shelves, which come to the bays that are solved. Answers how light passes there.
 */
export function passagesAround(
  { walls, rooms, besides }: Surroundings,
  b: number,
  lit: LitBox[],
  alone: BayAlone,
): Passage[] {
  const own = entry(lit, b);
  const { box } = own;
  for (const { side, key, ppfdUmol } of rooms) {
    const grid = box.faces[side];
    put(own, key, side, new Float64Array(grid.across * grid.up).fill(ppfdUmol));
  }
  const fromWalls = walls.map(({ side, wall, lamps: seen }): Passage => {
    const grid = box.faces[side];
    for (const lamp of seen) put(own, lamp.group, side, wall.backOf(lamp));
    const pass: Passage['pass'] = (arriving, entering) => {
      addOnFace(entering, grid, wall.back(onFace(arriving, grid)));
    };
    return { from: b, to: b, face: grid, pass };
  });
  return [...fromWalls, ...besides.flatMap((beside) => passagesBeside(beside, b, lit, alone))];
}

function passagesBeside(beside: Beside, b: number, lit: LitBox[], alone: BayAlone): Passage[] {
  const { side, other, inwards, outwards } = beside;
  const [near, far] = [entry(lit, b).box.faces[side], beside.box.faces[other]];
  const at = lit.length;
  const cell = cellOf(beside);
  lit.push(cell);
  // Direct light of the bay's own lamps goes over as what its side lets out.
  for (const [key, onSide] of alone.directOn(side)) {
    put(cell, key, other, through(outwards, onFace(onSide, near)));
  }
  return [
    {
      from: at,
      to: b,
      face: far,
      pass: (arriving, entering) => {
        addOnFace(entering, near, through(inwards, onFace(arriving, far)));
      },
    },
    {
      from: b,
      to: at,
      face: near,
      pass: (arriving, entering) => {
        addOnFace(entering, far, through(outwards, onFace(arriving, near)));
      },
    },
  ];
}

/** A bay of another shelf as one that is solved with the rest, with what it gets from further ones. */
function cellOf({ part, box, alone, beyond }: Beside): LitBox {
  const cell: LitBox = {
    box,
    rho: alone.rho,
    byGroup: new Map([[outsideKey(part.bay.id), whole(alone.givenOff(), box)]]),
  };
  for (const { bayId, side, upon } of beyond) put(cell, outsideKey(bayId), side, upon);
  return cell;
}

function whole(byGroup: ByGroup, { count }: BayBox): Float64Array {
  const sum = new Map<string, Float64Array>([['', new Float64Array(count)]]);
  for (const given of byGroup.values()) addTo(sum, '', given);
  return sum.get('') ?? new Float64Array(count);
}

function put({ box, byGroup }: LitBox, key: string, side: Side, values: Float64Array): void {
  const given = new Float64Array(box.count);
  addOnFace(given, box.faces[side], values);
  addTo(byGroup, key, given);
}
