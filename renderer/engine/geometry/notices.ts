import type { Notice } from '../../../shared-types/notice';
import type { Rack, Shelf, Tray } from '../../../shared-types/rack';
import { tightestPots } from './closestPots';
import { boardRect } from './bays';
import { trayCode } from './codes';
import { potsOfTray, type SizedTray } from './pots';
import { rectInside, rectsOverlap, type Rect } from './rect';
import { footprint, racksInRoom, standKey } from './stands';
import { noticesOfStage, plural, speechIn, type UnitSystem } from '../../words';

type SayLength = (mm: number) => string;

const notice = noticesOfStage('rack');

/** Everything on the rack that cannot stand as it is drawn, but for its lamps. */
export function rackNotices(rack: Rack, system: UnitSystem): Notice[] {
  const { length: mm } = speechIn(system);
  return [
    ...shelfNotices(mm, rack),
    ...placeNotices(mm, rack),
    ...rack.shelves.flatMap((shelf) => [
      ...trayNotices(mm, shelf),
      ...boardNotices(mm, shelf),
      ...shelf.trays.flatMap((tray) => potNotices(mm, shelf, tray)),
    ]),
  ];
}

function shelfNotices(mm: SayLength, rack: Rack): Notice[] {
  const found: Notice[] = [];
  const byNumber = new Map<number, Shelf>();
  for (const shelf of rack.shelves) {
    const other = byNumber.get(shelf.number);
    if (other) {
      found.push(
        notice(
          'duplicate-code',
          'stop',
          [`shelf:${other.id}`, `shelf:${shelf.id}`],
          `Two shelves bear the number ${shelf.number}, so their pots would share codes.`,
          'Give every shelf a number of its own.',
        ),
      );
    }
    byNumber.set(shelf.number, shelf);
  }
  for (const one of racksInRoom(rack.shelves)) {
    const upwards = [...one].sort((a, b) => a.heightMm - b.heightMm);
    upwards.forEach((shelf, i) => {
      const above = upwards[i + 1];
      if (above && reachesInto(shelf, above)) {
        found.push(
          notice(
            'shelves-overlap',
            'stop',
            [`shelf:${shelf.id}`, `shelf:${above.id}`],
            `Shelf ${shelf.number} reaches ${mm(shelf.heightMm + shelf.clearanceMm)} above the floor, but shelf ${above.number} begins at ${mm(above.heightMm)}.`,
            `Lower the clearance of shelf ${shelf.number} or raise shelf ${above.number}.`,
          ),
        );
      }
    });
  }
  return found;
}

/** Whether a bay reaches into that of another, by their heights alone. */
const reachesInto = (lower: Shelf, upper: Shelf): boolean =>
  lower.heightMm + lower.clearanceMm > upper.heightMm + 0.05;

/** Racks that cannot stand where they are in the room. */
function placeNotices(mm: SayLength, { shelves, room }: Rack): Notice[] {
  const found: Notice[] = [];
  shelves.forEach((shelf, i) => {
    const own = footprint(shelf);
    const inWay = shelves.slice(i + 1).find((other) => {
      const apart = standKey(other) !== standKey(shelf);
      const upright = reachesInto(shelf, other) && reachesInto(other, shelf);
      return apart && upright && rectsOverlap(own, footprint(other));
    });
    if (inWay) {
      found.push(
        notice(
          'shelves-overlap',
          'stop',
          [`shelf:${shelf.id}`, `shelf:${inWay.id}`],
          `Shelves ${shelf.number} and ${inWay.number} are of two racks that stand in the same place: they overlap by ${overlap(mm, own, footprint(inWay))}.`,
          'Move one of the racks in the room.',
        ),
      );
    }
  });
  const walls = room && { xMm: 0, yMm: 0, widthMm: room.widthMm, depthMm: room.depthMm };
  const outside = walls ? shelves.filter((shelf) => !rectInside(footprint(shelf), walls)) : [];
  if (room && outside.length > 0) {
    const names = outside.map(({ number }) => number);
    found.push(
      notice(
        'outside-shelf',
        'stop',
        outside.map(({ id }) => `shelf:${id}`),
        `${plural(names.length, 'shelf', 'shelves')} of a rack reach${names.length === 1 ? 'es' : ''} through a wall of the room, first shelf ${names[0]}. The room is ${mm(room.widthMm)} by ${mm(room.depthMm)}.`,
        'Move the rack into the room, or type the size of the room anew.',
      ),
    );
  }
  return found;
}

function trayNotices(mm: SayLength, shelf: Shelf): Notice[] {
  const found: Notice[] = [];
  const floor = { xMm: 0, yMm: 0, widthMm: shelf.widthMm, depthMm: shelf.depthMm };
  const letters = new Map<string, Tray>();
  shelf.trays.forEach((tray, i) => {
    const code = trayCode(shelf.number, tray.letter);
    const twin = letters.get(tray.letter);
    if (twin) {
      found.push(
        notice(
          'duplicate-code',
          'stop',
          [`tray:${twin.id}`, `tray:${tray.id}`],
          `Two trays on shelf ${shelf.number} bear the letter ${tray.letter}, so their pots would share codes.`,
          'Give every tray of a shelf a letter of its own.',
        ),
      );
    }
    letters.set(tray.letter, tray);
    if (!rectInside(tray, floor)) {
      found.push(
        notice(
          'outside-shelf',
          'stop',
          [`tray:${tray.id}`],
          `Tray ${code} does not lie wholly on its shelf. It spans ${mm(tray.xMm)} to ${mm(tray.xMm + tray.widthMm)} across and ${mm(tray.yMm)} to ${mm(tray.yMm + tray.depthMm)} deep, and the shelf is ${mm(shelf.widthMm)} by ${mm(shelf.depthMm)}.`,
          'Move the tray onto the shelf, or make it smaller.',
        ),
      );
    }
    for (const other of shelf.trays.slice(i + 1)) {
      if (!rectsOverlap(tray, other)) continue;
      found.push(
        notice(
          'trays-overlap',
          'stop',
          [`tray:${tray.id}`, `tray:${other.id}`],
          `Trays ${code} and ${trayCode(shelf.number, other.letter)} overlap by ${overlap(mm, tray, other)}: they cannot both stand there.`,
          'Move one of them aside, or make it smaller.',
        ),
      );
    }
  });
  return found;
}

/** `20 mm across and 400 mm deep`: what two rectangles have in common. */
function overlap(mm: SayLength, a: Rect, b: Rect): string {
  const shared = (from: 'xMm' | 'yMm', span: 'widthMm' | 'depthMm') =>
    Math.min(a[from] + a[span], b[from] + b[span]) - Math.max(a[from], b[from]);
  return `${mm(shared('xMm', 'widthMm'))} across and ${mm(shared('yMm', 'depthMm'))} deep`;
}

/** Boards that trays and pots moved under since they were set. */
function boardNotices(mm: SayLength, shelf: Shelf): Notice[] {
  return (shelf.boards ?? []).flatMap((board) => {
    const rect = boardRect(shelf, board);
    const found: Notice[] = [];
    const high = shelf.trays.filter(
      (tray) => tray.rimHeightMm > board.downToMm + 0.05 && rectsOverlap(tray, rect),
    );
    const [tallest] = [...high].sort((a, b) => b.rimHeightMm - a.rimHeightMm);
    if (tallest) {
      found.push(
        notice(
          'board-meets-tray',
          'stop',
          [`board:${board.id}`, ...high.map((tray) => `tray:${tray.id}`)],
          `The board at ${mm(board.atMm)} on shelf ${shelf.number} reaches down to ${mm(board.downToMm)}, but tray ${trayCode(shelf.number, tallest.letter)} beneath it is ${mm(tallest.rimHeightMm)} high.`,
          `Raise the board's lower edge to ${mm(tallest.rimHeightMm)} or more, or move the tray.`,
        ),
      );
    }
    const under = shelf.trays.flatMap((tray) =>
      potsOfTray(shelf, tray).filter((pot) => {
        const half = pot.diameterMm / 2;
        const box = {
          xMm: pot.xMm - half,
          yMm: pot.yMm - half,
          widthMm: 2 * half,
          depthMm: 2 * half,
        };
        return rectsOverlap(box, rect);
      }),
    );
    if (under.length > 0) {
      found.push(
        notice(
          'pot-under-board',
          'stop',
          under.map((pot) => `pot:${pot.id}`),
          `${under.length === 1 ? 'A pot stands' : `${under.length} pots stand`} beneath the board at ${mm(board.atMm)} on shelf ${shelf.number}, first ${under[0]?.code ?? ''}: the plant would grow into it.`,
          'Move the tray or the board, or leave these holes empty.',
        ),
      );
    }
    return found;
  });
}

function potNotices(mm: SayLength, shelf: Shelf, tray: SizedTray): Notice[] {
  const grid = tray.grid;
  if (!grid) return [];
  const found: Notice[] = [];
  const pots = potsOfTray(shelf, tray);
  const code = trayCode(shelf.number, tray.letter);
  const outside = pots.filter((pot) => pot.edgeDistanceMm < pot.diameterMm / 2 - 0.05);
  if (outside.length > 0) {
    found.push(
      notice(
        'pot-outside-tray',
        'stop',
        outside.map((pot) => `pot:${pot.id}`),
        `${outside.length} of ${pots.length} pots reach over the side of tray ${code}, first ${outside[0]?.code ?? ''}: they cannot stand level.`,
        'Fit the grid to the tray: fewer rows or columns, a smaller pitch, or another first pot.',
      ),
    );
  }
  const pair = tightestPots(pots, grid, 0.05);
  if (pair) {
    const { a, b, apartMm } = pair;
    const alike = pots.every(({ diameterMm }) => diameterMm === a.diameterMm);
    found.push(
      notice(
        'pots-overlap',
        'stop',
        [`tray:${tray.id}`],
        alike
          ? `Pots in tray ${code} are ${mm(a.diameterMm)} across but only ${mm(apartMm)} apart, centre to centre.`
          : `Pots ${a.code} and ${b.code} are ${mm(a.diameterMm)} and ${mm(b.diameterMm)} across but only ${mm(apartMm)} apart, centre to centre.`,
        'Widen the pitch or choose smaller pots.',
      ),
    );
  }
  return found;
}
