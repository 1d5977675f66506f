import * as Plot from '@observablehq/plot';
import { COLUMN, meanShown, type FactorRole, type Findings } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/palette';
import { figures, list } from '../../../words';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { pictureRoles } from './roles';

interface Dot {
  potId: string;
  title: string;
  panel: string;
  level: string;
  /** Number of its level, moved sideways so that few dots cover each other. */
  at: number;
  value: number;
}

interface Mean {
  panel: string;
  /** Number of its level. */
  at: number;
  mean: number;
  lower: number;
  upper: number;
}

/** Steps of the golden ratio: they fill a band evenly, and are the same at every drawing. */
const GOLDEN = 0.618033988749895;
/** Width of the band of dots, where levels are 1 apart. */
const BAND = 0.56;
const MEAN_WIDTH = 0.34;

/**
 * Every plant as a dot in its level's colour and shape, with adjusted means and their intervals on
 * top. The first of two factors makes the panels; null where nothing is compared.
 */
export function plantsFigure(findings: Findings, size: FigureSize): Figure | null {
  const roles = pictureRoles(findings.design.tested);
  if (!roles) return null;
  const { panel: panelRole, level: levelRole, panels, levels } = roles;
  const dots = dotsOf(findings, panelRole, levelRole, levels);
  const means = meansOf(findings, panelRole, levelRole, levels);
  const { name, unit } = findings.response;
  const of = list([panelRole, levelRole].flatMap((role) => (role ? [role.factor.name] : [])));
  const label = `Every plant’s ${name} by ${of}: ${dots.length} dots, with adjusted means and intervals.`;
  const key = keyOf(levels, panels[0] ?? '', size.width);
  const faceted = panelRole ? { fx: 'panel' } : {};
  return drawFigure('every plant', label, size, {
    height: Math.max(250, Math.min(380, size.width * 0.5)),
    marginLeft: 54,
    marginTop: key.heightPx,
    marginBottom: 34,
    x: {
      ...{ label: null, domain: [-0.5, levels.length - 0.5], type: 'linear' },
      ...{ ticks: levels.map((_, i) => i), tickSize: 0 },
      tickFormat: (i: number) => (panelRole ? '' : (levels[i] ?? '')),
    },
    fx: { label: null, domain: panels, axis: panelRole ? 'bottom' : null, padding: 0.06 },
    y: { label: unit ? `${name}, ${unit}` : name, grid: true, labelAnchor: 'center' },
    color: {
      domain: levels,
      range: levels.map((_, i) => treatmentColours[i % treatmentColours.length] ?? 'currentColor'),
    },
    symbol: { domain: levels, range: SYMBOLS.slice(0, levels.length) },
    marks: [
      Plot.dot(dots, {
        ...faceted,
        ...{ x: 'at', y: 'value', symbol: 'level', fill: 'level', stroke: 'level' },
        ...{ r: 2.8, fillOpacity: 0.7, strokeWidth: 0.8, title: 'title' },
        ...(size.links ? { href: (d: Dot) => `#pot:${d.potId}` } : {}),
      }),
      ...key.entries.flatMap((entry) => {
        const place = { ...faceted, frameAnchor: 'top-left', dy: entry.dy } as const;
        return [
          Plot.dot([entry], {
            ...{ ...place, dx: entry.dx + 4, symbol: 'level', fill: 'level', r: 4 },
          }),
          Plot.text([entry], { ...place, dx: entry.dx + 14, text: 'level', lineAnchor: 'middle' }),
        ];
      }),
      Plot.ruleX(means, {
        ...faceted,
        ...{ x: 'at', y1: 'lower', y2: 'upper', stroke: 'currentColor', strokeWidth: 2.4 },
      }),
      Plot.ruleY(means, {
        ...faceted,
        x1: (d: Mean) => d.at - MEAN_WIDTH,
        x2: (d: Mean) => d.at + MEAN_WIDTH,
        ...{ y: 'mean', stroke: 'currentColor', strokeWidth: 2.4 },
      }),
    ],
  });
}

interface KeyEntry {
  panel: string;
  level: string;
  dx: number;
  dy: number;
}

const LETTER_PX = 7;
const ROW_PX = 18;

/** The levels beside their marks, in rows above the first panel. */
function keyOf(levels: readonly string[], panel: string, width: number) {
  let [dx, row] = [0, 0];
  const placed = levels.map((level) => {
    const needs = 24 + level.length * LETTER_PX;
    if (dx > 0 && dx + needs > width - 60) [dx, row] = [0, row + 1];
    const entry = { panel, level, dx, row };
    dx += needs;
    return entry;
  });
  const rows = row + 1;
  const entries = placed.map((entry): KeyEntry => ({
    ...{ panel, level: entry.level, dx: entry.dx },
    dy: -(rows - entry.row) * ROW_PX - 2,
  }));
  return { entries, heightPx: rows * ROW_PX + 10 };
}

function dotsOf(
  { table, pots, response }: Findings,
  panelRole: FactorRole | null,
  levelRole: FactorRole,
  levels: readonly string[],
): Dot[] {
  const values = table.columns[COLUMN.response] ?? [];
  return pots.flatMap((pot, row): Dot[] => {
    const value = values[row];
    const level = String(table.columns[levelRole.column]?.[row] ?? '');
    const panel = panelRole ? String(table.columns[panelRole.column]?.[row] ?? '') : '';
    const at = levels.indexOf(level);
    if (typeof value !== 'number' || at < 0) return [];
    const figure = `${figures(value)} ${response.unit}`.trimEnd();
    const given = [panel, level].filter((part) => part !== '').join(', ');
    const sideways = (((row + 1) * GOLDEN) % 1) - 0.5;
    const title = `${pot.code} · ${given} · ${figure}`;
    return [{ potId: pot.id, title, panel, level, at: at + sideways * BAND, value }];
  });
}

function meansOf(
  findings: Findings,
  panelRole: FactorRole | null,
  levelRole: FactorRole,
  levels: readonly string[],
): Mean[] {
  const columns = [panelRole, levelRole].flatMap((role) => (role ? [role.column] : []));
  const rows =
    findings.primary.result.means.find(
      ({ of }) => of.length === columns.length && columns.every((column) => of.includes(column)),
    )?.rows ?? [];
  return rows.flatMap((row): Mean[] => {
    const at = levels.indexOf(String(row[levelRole.column]));
    const { mean, lower, upper } = meanShown(row);
    if (at < 0 || !Number.isFinite(lower) || !Number.isFinite(upper)) return [];
    return [{ panel: panelRole ? String(row[panelRole.column]) : '', at, mean, lower, upper }];
  });
}
