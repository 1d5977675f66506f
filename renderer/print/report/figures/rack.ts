import * as Plot from '@observablehq/plot';
import type { Plan } from '../../../../shared-types/plan';
import type { Shelf } from '../../../../shared-types/rack';
import { planAsGrown } from '../../../derive';
import { hasSeveralRuns, runName } from '../../../document/runs';
import { boardRect, potsOfRack, trayCode, type Pot } from '../../../engine/geometry';
import { COLUMN, type Findings } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/palette';
import { list } from '../../../words';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { potOnRack } from '../inRun';
import { keyOf } from './key';
import { picturedRoles, type PictureRoles } from './roles';

const GAP = 14;
const HEAD = 16;
/** Height of all shelves together, as a share of the width. */
const TALLEST = 0.36;
/** From white to the darkest grey on which every colour still reads. */
const TINTS = [
  '#ffffff',
  '#dedede',
  '#bcbcbc',
  '#eeeeee',
  '#cdcdcd',
  '#acacac',
  '#f6f6f6',
  '#d5d5d5',
];

interface Box {
  x1: number;
  x2: number;
  y1: number;
  y2: number;
  tint: string;
}

interface PotMark {
  x: number;
  y: number;
  r: number;
  tint: string;
  level: string | null;
}

/**
 * The rack as treated, in small, from above with the fronts below: each pot with the mark that its
 * plant has in the picture of every plant; the ground tells the levels of the other factor.
 */
export function rackFigure(plan: Plan, findings: Findings, size: FigureSize): Figure | null {
  const roles = picturedRoles(findings);
  if (!roles) return null;
  const { rack } = planAsGrown(plan);
  const pots = potsOfRack(rack);
  const at = levelsByPot(findings, roles, potOnRack(plan));
  const places = placesOf(rack.shelves, size.width);
  const tintOf = (panel: string | undefined) =>
    TINTS[roles.panels.indexOf(panel ?? '') % TINTS.length] ?? 'none';
  const trays: Box[] = [];
  const marks: PotMark[] = [];
  for (const { shelf, x, y, scale } of places.shelves) {
    const up = (yMm: number) => y + (shelf.depthMm - yMm) * scale;
    const own = pots.filter((pot) => pot.shelfId === shelf.id);
    for (const tray of shelf.trays) {
      const panels = new Set(panelsIn(own, tray.id, at));
      const [panel] = panels;
      const uniform = roles.panel !== null && panels.size === 1;
      trays.push({
        ...{ x1: x + tray.xMm * scale, x2: x + (tray.xMm + tray.widthMm) * scale },
        ...{ y1: up(tray.yMm), y2: up(tray.yMm + tray.depthMm) },
        tint: uniform ? tintOf(panel) : 'none',
      });
      for (const pot of own.filter(({ trayId }) => trayId === tray.id)) {
        const found = at.get(pot.id);
        marks.push({
          ...{ x: x + pot.xMm * scale, y: up(pot.yMm), r: (pot.diameterMm / 2) * scale },
          tint: uniform || !found || !roles.panel ? 'none' : tintOf(found.panel),
          level: found?.level ?? null,
        });
      }
    }
  }
  const names = list(
    [roles.panel, roles.level].flatMap((role) => (role ? [role.factor.name] : [])),
  );
  const key = keyOf(
    [...roles.levels, ...(roles.panel ? roles.panels.map((panel) => `${panel} (ground)`) : [])],
    size.width,
  );
  const height = places.height + key.height;
  const shelfBoxes = places.shelves.map(({ shelf, x, y, scale }) => ({
    ...{ x1: x, x2: x + shelf.widthMm * scale, y1: y, y2: y + shelf.depthMm * scale },
    name: `Shelf ${shelf.number}`,
    trays: shelf.trays.map((tray) => trayCode(shelf.number, tray.letter)),
  }));
  const boards = places.shelves.flatMap(({ shelf, x, y, scale }) =>
    (shelf.boards ?? []).map((board) => {
      const rect = boardRect(shelf, board);
      const up = (yMm: number) => y + (shelf.depthMm - yMm) * scale;
      return {
        ...{ x1: x + rect.xMm * scale, x2: x + (rect.xMm + rect.widthMm) * scale },
        ...{ y1: up(rect.yMm), y2: up(rect.yMm + rect.depthMm) },
      };
    }),
  );
  const box = { x1: 'x1', x2: 'x2', y1: 'y1', y2: 'y2' } as const;
  const levelAt = (i: number) => roles.levels[i];
  return drawFigure(
    'rack',
    `The rack as treated${inRun(plan)}, by ${names}, seen from above.`,
    size,
    {
      ...{ height, margin: 0, axis: null },
      x: { type: 'identity' },
      y: { type: 'identity' },
      r: { type: 'identity' },
      color: { type: 'identity' },
      symbol: { domain: roles.levels, range: SYMBOLS.slice(0, roles.levels.length) },
      marks: [
        Plot.rect(shelfBoxes, { ...box, stroke: 'currentColor', strokeWidth: 0.6 }),
        Plot.text(shelfBoxes, {
          ...{ x: 'x1', y: (d: { y1: number }) => d.y1 - 5, text: 'name', textAnchor: 'start' },
          fontSize: 11,
        }),
        Plot.rect(trays, { ...box, fill: 'tint', stroke: 'currentColor', strokeWidth: 0.9 }),
        Plot.dot(
          marks.filter(({ tint }) => tint !== 'none'),
          { x: 'x', y: 'y', r: 'r', fill: 'tint', stroke: 'currentColor', strokeWidth: 0.4 },
        ),
        Plot.dot(
          marks.filter(({ level }) => level === null),
          {
            x: 'x',
            y: 'y',
            r: (d: PotMark) => d.r * 0.6,
            stroke: 'currentColor',
            strokeOpacity: 0.5,
          },
        ),
        Plot.dot(
          marks.filter(({ level }) => level !== null),
          {
            ...{ x: 'x', y: 'y', r: (d: PotMark) => Math.min(6, d.r * 0.62), symbol: 'level' },
            fill: (d: PotMark) => colourOf(roles, d.level),
            ...{ stroke: 'currentColor', strokeWidth: 0.5 },
          },
        ),
        Plot.rect(boards, { ...box, fill: 'white', stroke: 'currentColor' }),
        Plot.dot(
          key.entries.filter(({ index }) => levelAt(index) !== undefined),
          {
            ...{ x: (d: { x: number }) => d.x + 5, y: (d: { y: number }) => places.height + d.y },
            ...{ r: 4, symbol: (d: { index: number }) => levelAt(d.index) },
            fill: (d: { index: number }) => colourOf(roles, levelAt(d.index) ?? null),
          },
        ),
        Plot.rect(
          key.entries.filter(({ index }) => levelAt(index) === undefined),
          {
            ...{ x1: (d: { x: number }) => d.x, x2: (d: { x: number }) => d.x + 11 },
            y1: (d: { y: number }) => places.height + d.y - 5.5,
            y2: (d: { y: number }) => places.height + d.y + 5.5,
            fill: (d: { index: number }) => TINTS[(d.index - roles.levels.length) % TINTS.length],
            stroke: 'currentColor',
          },
        ),
        Plot.text(key.entries, {
          ...{ x: (d: { x: number }) => d.x + 16, y: (d: { y: number }) => places.height + d.y },
          ...{ text: 'text', textAnchor: 'start' },
        }),
      ],
    },
  );
}

const inRun = (plan: Plan): string =>
  hasSeveralRuns(plan) ? ` in ${runName(plan).toLowerCase()}` : '';

const colourOf = ({ levels }: PictureRoles, level: string | null): string =>
  treatmentColours[levels.indexOf(level ?? '') % treatmentColours.length] ?? 'currentColor';

function panelsIn(
  pots: readonly Pot[],
  trayId: string,
  at: ReadonlyMap<string, { panel: string }>,
): string[] {
  return pots.flatMap((pot) => (pot.trayId === trayId ? (at.get(pot.id)?.panel ?? []) : []));
}

/** Levels of every pot that was analysed. */
function levelsByPot(
  { table, pots }: Findings,
  { panel, level }: PictureRoles,
  onRack: ReturnType<typeof potOnRack>,
) {
  const values = table.columns[COLUMN.response] ?? [];
  const named = (column: string | undefined, row: number) =>
    String((column === undefined ? null : table.columns[column]?.[row]) ?? '');
  return new Map(
    pots.flatMap((pot, row) => {
      const id = onRack(pot);
      if (typeof values[row] !== 'number' || id === null) return [];
      const at = { panel: named(panel?.column, row), level: named(level.column, row) };
      return [[id, at] as const];
    }),
  );
}

/** Shelves beside each other from the lowest, in as few rows as keep the picture low. */
function placesOf(shelves: readonly Shelf[], width: number) {
  const widest = Math.max(1, ...shelves.map((shelf) => shelf.widthMm));
  const deepest = Math.max(1, ...shelves.map((shelf) => shelf.depthMm));
  const ways = shelves.map((_, i) => {
    const columns = i + 1;
    const scale = (width - (columns - 1) * GAP) / columns / widest;
    const rows = Math.ceil(shelves.length / columns);
    return { columns, scale, rowPx: deepest * scale + HEAD, rows };
  });
  const low = ways.find(({ rows, rowPx }) => rows * rowPx <= width * TALLEST) ?? ways.at(-1);
  const { columns, rows } = low ?? { columns: 1, rows: 0 };
  const room = rows > 0 ? (width * TALLEST) / rows - HEAD : 0;
  const scale = Math.min(low?.scale ?? 0, room / deepest);
  const rowPx = deepest * scale + HEAD;
  return {
    height: rows * rowPx,
    shelves: shelves.map((shelf, i) => ({
      shelf,
      scale,
      x: (i % columns) * (widest * scale + GAP) + 0.5,
      y: Math.floor(i / columns) * rowPx + HEAD - 1,
    })),
  };
}
