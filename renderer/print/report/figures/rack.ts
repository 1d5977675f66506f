import * as Plot from '@observablehq/plot';
import type { Plan } from '../../../../shared-types/plan';
import { hasSeveralRuns, runName } from '../../../document/runs';
import type { Findings } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/colour/palette';
import { list } from '../../../words';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { keyOf, type KeyEntry } from './key';
import { rackParts, type PlantMark } from './rackParts';
import { picturedRoles, type PictureRoles } from './roles';

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

/**
 * The rack as treated, in small, from above with the fronts below: each pot with the mark that its
 * plant has in the picture of every plant; the ground tells the levels of the other factor.
 */
export function rackFigure(plan: Plan, findings: Findings, size: FigureSize): Figure | null {
  const roles = picturedRoles(findings);
  if (!roles) return null;
  const parts = rackParts(plan, findings, roles, size.width);
  const names = list(
    [roles.panel, roles.level].flatMap((role) => (role ? [role.factor.name] : [])),
  );
  const key = keyOf(
    [...roles.levels, ...(roles.panel ? roles.panels.map((panel) => `${panel} (ground)`) : [])],
    size.width,
  );
  return drawFigure(
    'rack',
    `The rack as treated${inRun(plan)}, by ${names}, seen from above.`,
    size,
    {
      height: parts.height + key.height,
      margin: 0,
      axis: null,
      x: { type: 'identity' },
      y: { type: 'identity' },
      r: { type: 'identity' },
      color: { type: 'identity' },
      symbol: { domain: roles.levels, range: SYMBOLS.slice(0, roles.levels.length) },
      marks: [...rackMarks(parts, roles), ...keyMarks(key.entries, parts.height, roles)],
    },
  );
}

function rackMarks(
  { shelves, trays, pots, boards }: ReturnType<typeof rackParts>,
  roles: PictureRoles,
): Plot.Markish[] {
  const box = { x1: 'x1', x2: 'x2', y1: 'y1', y2: 'y2' } as const;
  const fill = ({ ground }: { ground: string | null }) => tintOf(roles, ground);
  return [
    Plot.rect(shelves, { ...box, stroke: 'currentColor', strokeWidth: 0.6 }),
    Plot.text(shelves, {
      x: 'x1',
      y: (d: { y1: number }) => d.y1 - 5,
      text: 'name',
      textAnchor: 'start',
      fontSize: 11,
    }),
    Plot.rect(trays, { ...box, fill, stroke: 'currentColor', strokeWidth: 0.9 }),
    Plot.dot(
      pots.filter((pot) => fill(pot) !== 'none'),
      { x: 'x', y: 'y', r: 'r', fill, stroke: 'currentColor', strokeWidth: 0.4 },
    ),
    Plot.dot(
      pots.filter(({ level }) => level === null),
      {
        x: 'x',
        y: 'y',
        r: (d: PlantMark) => d.r * 0.6,
        stroke: 'currentColor',
        strokeOpacity: 0.5,
      },
    ),
    Plot.dot(
      pots.filter(({ level }) => level !== null),
      {
        x: 'x',
        y: 'y',
        r: (d: PlantMark) => Math.min(6, d.r * 0.62),
        symbol: 'level',
        fill: (d: PlantMark) => colourOf(roles, d.level),
        stroke: 'currentColor',
        strokeWidth: 0.5,
      },
    ),
    Plot.rect(boards, { ...box, fill: 'white', stroke: 'currentColor' }),
  ];
}

/** The key below the rack: the marks of levels first, then the grounds of panels. */
function keyMarks(
  entries: readonly KeyEntry[],
  topPx: number,
  roles: PictureRoles,
): Plot.Markish[] {
  const levelAt = (i: number) => roles.levels[i];
  const y = (d: KeyEntry) => topPx + d.y;
  return [
    Plot.dot(
      entries.filter(({ index }) => levelAt(index) !== undefined),
      {
        x: (d: KeyEntry) => d.x + 5,
        y,
        r: 4,
        symbol: (d: KeyEntry) => levelAt(d.index),
        fill: (d: KeyEntry) => colourOf(roles, levelAt(d.index) ?? null),
      },
    ),
    Plot.rect(
      entries.filter(({ index }) => levelAt(index) === undefined),
      {
        x1: (d: KeyEntry) => d.x,
        x2: (d: KeyEntry) => d.x + 11,
        y1: (d: KeyEntry) => y(d) - 5.5,
        y2: (d: KeyEntry) => y(d) + 5.5,
        fill: (d: KeyEntry) => TINTS[(d.index - roles.levels.length) % TINTS.length],
        stroke: 'currentColor',
      },
    ),
    Plot.text(entries, {
      x: (d: KeyEntry) => d.x + 16,
      y,
      text: 'text',
      textAnchor: 'start',
    }),
  ];
}

const tintOf = ({ panels }: PictureRoles, panel: string | null): string =>
  (panel === null ? null : TINTS[panels.indexOf(panel) % TINTS.length]) ?? 'none';

const inRun = (plan: Plan): string =>
  hasSeveralRuns(plan) ? ` in ${runName(plan).toLowerCase()}` : '';

const colourOf = ({ levels }: PictureRoles, level: string | null): string =>
  treatmentColours[levels.indexOf(level ?? '') % treatmentColours.length] ?? 'currentColor';
