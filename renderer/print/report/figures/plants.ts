import * as Plot from '@observablehq/plot';
import { sureTogether, type Findings } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/colour/palette';
import { list, plural } from '../../../words';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { keyOf } from './key';
import {
  lettersOf,
  plantChoices,
  plantGroups,
  type LostDot,
  type PlantDot,
  type PlantGroup,
  type PlantGroups,
} from './plantGroups';

const MEAN_WIDTH = 0.34;
/** Of lost plants, in a row of their own below the others. */
const LOST_ROW_PX = 16;

/**
 * Every plant as a dot in its level's colour and shape, with adjusted means and their intervals on
 * top; of a factor on trays or shelves, the mean of each of these too. The first of two factors
 * makes the panels. `of`: columns of the findings; null where none of them is in the trial.
 */
export function plantsFigure(
  findings: Findings,
  size: FigureSize,
  of: readonly string[] = plantChoices(findings)[0] ?? [],
): Figure | null {
  const found = plantGroups(findings, of);
  if (!found) return null;
  const { panelRole, levelRole, panels, levels, groups } = found;
  const dots = groups.flatMap((group) => group.dots);
  const lost = groups.flatMap((group) => group.lost);
  const { name, unit } = findings.response;
  const named = list([panelRole, levelRole].flatMap((role) => (role ? [role.factor.name] : [])));
  const rest = lost.length > 0 ? `, ${plural(lost.length, 'pot')} without a value` : '';
  const label = `Every plant’s ${name} by ${named}: ${dots.length} dots${rest}, with adjusted means and intervals.`;
  const letters = lettersIn(findings, found);
  const colourOf = (i: number) => treatmentColours[i % treatmentColours.length] ?? 'currentColor';
  const key = keyAbove(keyTexts(found, lost, letters.ofLevel), size.width);
  const faceted = panelRole ? { fx: 'panel' } : {};
  const links = size.links ? { href: (d: { potId: string }) => `#pot:${d.potId}` } : {};
  const perPanel = (size.width - 70) / panels.length;
  const tick = labelsBelow(
    panelRole ? panels : levels,
    panelRole ? perPanel : perPanel / levels.length,
  );
  return drawFigure(`every plant by ${named}`, label, size, {
    height: Math.max(210, Math.min(300, size.width * 0.36)) + key.heightPx + tick.heightPx,
    marginLeft: 54,
    marginTop: key.heightPx + (letters.ofGroup ? 14 : 0),
    marginBottom: 16 + tick.heightPx,
    x: { axis: null, domain: [-0.5, levels.length - 0.5], type: 'linear' },
    fx: { axis: null, domain: panels, padding: 0.06 },
    y: {
      label: unit && unit !== name.toLowerCase() ? `${name}, ${unit}` : name,
      grid: true,
      labelAnchor: 'center',
      insetBottom: lost.length > 0 ? LOST_ROW_PX : 0,
    },
    color: { domain: levels, range: levels.map((_, i) => colourOf(i)) },
    symbol: {
      domain: levels,
      range: levels.map((_, i) => SYMBOLS[i % SYMBOLS.length] ?? 'circle'),
    },
    marks: [
      ...(panelRole
        ? [
            Plot.axisFx({
              ...{ anchor: 'bottom', label: null, lineWidth: tick.ems, fontSize: 12 },
              tickFormat: (d: string) => withLetter(d, letters.ofPanel),
            }),
          ]
        : [
            Plot.axisX({
              ...{ ticks: levels.map((_, i) => i), tickSize: 0, label: null, lineWidth: tick.ems },
              tickFormat: (i: number) => withLetter(levels[i] ?? '', letters.ofLevel),
            }),
          ]),
      Plot.dot(dots, {
        ...faceted,
        ...{ x: 'at', y: 'value', symbol: 'level', fill: 'level', stroke: 'level' },
        ...{ r: 2.8, fillOpacity: 0.7, strokeWidth: 0.8, title: 'title', ...links },
      }),
      Plot.dot(lost, {
        ...{ ...faceted, x: 'at', frameAnchor: 'bottom', dy: -5, r: 3.4, strokeWidth: 1.4 },
        ...{ symbol: lostSymbol, stroke: 'currentColor', title: 'title', ...links },
      }),
      ...keyMarks(key.entries, panelRole ? (panels[0] ?? '') : null),
      ...meanMarks(groups, faceted),
      Plot.ruleY(found.units, {
        x1: (d: { at: number }) => d.at - 0.3 / Math.max(2, found.units.length / levels.length),
        x2: (d: { at: number }) => d.at + 0.3 / Math.max(2, found.units.length / levels.length),
        ...{ y: 'mean', stroke: 'currentColor', strokeWidth: 1.6, title: 'title' },
      }),
      ...(letters.ofGroup
        ? [
            Plot.text(groups, {
              ...{ ...faceted, x: 'at', frameAnchor: 'top', dy: -8, fontWeight: 700 },
              text: (d: PlantGroup) => letters.ofGroup?.(d) ?? '',
            }),
          ]
        : []),
    ],
  });
}

const lostSymbol = ({ why }: LostDot): (typeof SYMBOLS)[number] =>
  why === 'dead' ? 'times' : why === 'missing' ? 'circle' : 'triangle';

const withLetter = (name: string, letters: ReadonlyMap<string, string>): string => {
  const letter = letters.get(name);
  return letter === undefined ? name : `${name} ${letter}`;
};

/** Where letters stand: at single levels, or at each combination where the factors act on each other. */
function lettersIn(findings: Findings, { panelRole, levelRole }: PlantGroups) {
  const none: ReadonlyMap<string, string> = new Map();
  if (!panelRole) {
    return { ofPanel: none, ofLevel: lettersOf(findings, levelRole), ofGroup: null };
  }
  const together = sureTogether(findings, [panelRole.column, levelRole.column]);
  if (together === 'cannot-tell' || together === null) {
    const [ofPanel, ofLevel] = [lettersOf(findings, panelRole), lettersOf(findings, levelRole)];
    return { ofPanel, ofLevel, ofGroup: null };
  }
  const ofGroup = ({ panel, level }: PlantGroup) =>
    lettersOf(findings, levelRole, { role: panelRole, level: panel }).get(level) ?? '';
  return { ofPanel: none, ofLevel: none, ofGroup };
}

/** What a mark of the key is of; null: of no level, for its sign stands in its text. */
interface KeyText {
  level: string | null;
  text: string;
}

function keyTexts(
  { panelRole, levels }: PlantGroups,
  lost: readonly LostDot[],
  letters: ReadonlyMap<string, string>,
): KeyText[] {
  // Levels that stand below their dots need no key.
  const own = panelRole ? levels : [];
  const gone = (['dead', 'missing', 'left out'] as const).flatMap((why) => {
    const n = lost.filter((dot) => dot.why === why).length;
    return n > 0 ? [{ level: null, text: `${LOST_SIGN[why]} ${why}: ${n}` }] : [];
  });
  return [...own.map((level) => ({ level, text: withLetter(level, letters) })), ...gone];
}

const LOST_SIGN = { dead: '×', missing: '○', 'left out': '△' } as const;

/** The key in the margin above the first panel. */
function keyAbove(texts: readonly KeyText[], width: number) {
  const { entries, height } = keyOf(
    texts.map(({ text }) => text),
    width - 60,
  );
  const heightPx = texts.length === 0 ? 10 : height + 8;
  return {
    heightPx,
    entries: entries.map(({ index, text, x, y }) => ({
      ...{ text, dx: x, dy: y - heightPx },
      level: texts[index]?.level ?? null,
    })),
  };
}

function keyMarks(
  entries: ReturnType<typeof keyAbove>['entries'],
  panel: string | null,
): Plot.Markish[] {
  return entries.flatMap(({ level, text, dx, dy }) => {
    const place = {
      ...(panel === null ? {} : { fx: () => panel }),
      frameAnchor: 'top-left',
      dy,
    } as const;
    const words = { ...place, text: () => text, lineAnchor: 'middle' } as const;
    if (level === null) return [Plot.text([0], { ...words, dx })];
    return [
      Plot.dot([0], { ...place, dx: dx + 4, symbol: () => level, fill: () => level, r: 4 }),
      Plot.text([0], { ...words, dx: dx + 14 }),
    ];
  });
}

type Faceted = { fx?: string };

function meanMarks(groups: readonly PlantGroup[], faceted: Faceted): Plot.Markish[] {
  const means = groups.flatMap(({ panel, at, mean }) => (mean ? [{ panel, at, ...mean }] : []));
  const line = { stroke: 'currentColor', strokeWidth: 2.4 };
  return [
    Plot.ruleX(means, { ...faceted, x: 'at', y1: 'lower', y2: 'upper', ...line }),
    Plot.ruleY(means, {
      ...{ ...faceted, y: 'mean', ...line },
      x1: (d: PlantDot) => d.at - MEAN_WIDTH,
      x2: (d: PlantDot) => d.at + MEAN_WIDTH,
    }),
  ];
}

const EM_PX = 6.6;

/** How wide a name may run below its dots before it breaks, and how high the names are then. */
function labelsBelow(names: readonly string[], px: number): { ems: number; heightPx: number } {
  const lines = Math.max(...names.map((name) => Math.ceil(((name.length + 3) * EM_PX) / px)));
  return { ems: Math.max(3, px / 12), heightPx: 8 + 14 * Math.min(4, lines) };
}
