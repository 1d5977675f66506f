import { drainPlaceWords } from '../../../../shared-types/landmarks';
import type { Plan } from '../../../../shared-types/plan';
import {
  boardDirectionWords,
  type Board,
  type Canopy,
  type PotGrid,
  type Shelf,
  type Tray,
} from '../../../../shared-types/rack';
import { planAsGrown, potsOf } from '../../../derive';
import { trayCode } from '../../../engine/geometry';
import { percent, plural, speechIn, type Speech } from '../../../words';
import type { FindingsTable } from '../cells';
import { settingsTable } from './compact';

/** Every shelf: its size and place, canopy, surfaces and boards. */
export function shelvesTable({ rack, display }: Plan): FindingsTable | null {
  const say = speechIn(display.lengths);
  return settingsTable({
    name: 'shelves',
    upright: true,
    caption: 'Shelves',
    heads: [
      'Shelf',
      'Width × depth',
      'Above the floor',
      'Clearance',
      'Canopy from planting to harvest',
      'Reflectance above, of canopy, front, back, left, right',
      'Boards',
    ],
    rows: rack.shelves.map((shelf) => {
      const { above, canopy, front, back, left, right } = shelf.reflectances;
      return [
        String(shelf.number),
        across(say, shelf.widthMm, shelf.depthMm),
        say.length(shelf.heightMm),
        say.length(shelf.clearanceMm),
        canopyWords(shelf, say),
        [above, canopy, front, back, left, right].map((share) => percent(share)).join(', '),
        (shelf.boards ?? []).map((board) => boardWords(board, say)).join('; '),
      ];
    }),
  });
}

const across = (say: Speech, a: number, b: number): string => `${say.length(a)} × ${say.length(b)}`;

/** The shelf's canopy, and that of each tray which has one of its own. */
function canopyWords({ canopy, trays }: Shelf, say: Speech): string {
  const heights = ({ plantingMm, harvestMm }: Canopy) =>
    `${say.length(plantingMm)} to ${say.length(harvestMm)}`;
  const own = trays.flatMap((tray) =>
    tray.canopy ? [`tray ${tray.letter}: ${heights(tray.canopy)}`] : [],
  );
  if (own.length === trays.length && own.length > 0) return own.join('; ');
  return [heights(canopy), ...own].join('; ');
}

function boardWords(board: Board, say: Speech): string {
  const { direction, atMm, thicknessMm, reflectance, downToMm } = board;
  return `${boardDirectionWords[direction]} at ${say.length(atMm)}, ${say.length(thicknessMm)} thick, reflects ${percent(reflectance)}, down to ${say.length(downToMm)}`;
}

/** Every tray: its size and place, and the pots that stand in it. */
export function traysTable(plan: Plan): FindingsTable | null {
  const { display, flood } = plan;
  const { rack } = planAsGrown(plan);
  const say = speechIn(display.lengths);
  const pots = potsOf(plan);
  return settingsTable({
    name: 'trays',
    upright: true,
    caption: 'Trays and pots',
    heads: [
      'Tray',
      'From left / front',
      'Width × depth',
      'Rim',
      'Holes, rows × columns',
      'Centre to centre',
      'First at',
      'Pots',
      'Guard pots',
      'Fall',
    ],
    rows: rack.shelves.flatMap((shelf) =>
      shelf.trays.map((tray) => {
        const { grid } = tray;
        const slope = flood?.slopes.find(({ trayId }) => trayId === tray.id);
        const guards = pots.filter(({ trayId, guard }) => trayId === tray.id && guard).length;
        return [
          trayCode(shelf.number, tray.letter),
          pair(say, tray.xMm, tray.yMm),
          across(say, tray.widthMm, tray.depthMm),
          rimWords(tray, say),
          grid ? `${gridWords(grid)}` : 'none',
          grid ? across(say, grid.pitchXMm, grid.pitchYMm) : '',
          grid ? pair(say, grid.firstXMm, grid.firstYMm) : '',
          grid
            ? `${say.length(grid.potDiameterMm)} across, ${say.length(grid.potHeightMm)} high`
            : '',
          guards > 0 ? String(guards) : 'none',
          slope
            ? `rises ${say.slope(slope.rightMmPerM)} to the right, ${say.slope(slope.backMmPerM)} to the back`
            : 'level',
        ];
      }),
    ),
  });
}

/** The rim and, where it is said, the drain. */
const rimWords = ({ rimHeightMm, drainPlace }: Tray, say: Speech): string =>
  drainPlace === undefined
    ? say.length(rimHeightMm)
    : `${say.length(rimHeightMm)}, drain: ${drainPlaceWords[drainPlace]}`;

const pair = (say: Speech, left: number, front: number): string =>
  `${say.length(left)} / ${say.length(front)}`;

function gridWords({ rows, columns, pattern, empty }: PotGrid): string {
  const left = empty.length > 0 ? `, ${plural(empty.length, 'hole')} empty` : '';
  return `${rows} × ${columns}, ${pattern}${left}`;
}
