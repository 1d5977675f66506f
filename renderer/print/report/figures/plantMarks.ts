import * as Plot from '@observablehq/plot';
import type { SYMBOLS } from './draw';
import { withLetter, type PlantKeyEntry, type PlantLetters } from './plantKey';
import type { LostDot, PlantDot, PlantGroup, PlantGroups } from './plantGroups';

const MEAN_WIDTH = 0.34;

type Faceted = { fx?: string };

/** The names below the dots: of the panels, or of the levels where there is one panel. */
export function nameAxis(
  { panelRole, levels }: PlantGroups,
  letters: PlantLetters,
  lineWidth: number,
): Plot.Markish {
  if (panelRole)
    return Plot.axisFx({
      anchor: 'bottom',
      label: null,
      lineWidth,
      fontSize: 12,
      tickFormat: (d: string) => withLetter(d, letters.ofPanel),
    });
  return Plot.axisX({
    ticks: levels.map((_, i) => i),
    tickSize: 0,
    label: null,
    lineWidth,
    tickFormat: (i: number) => withLetter(levels[i] ?? '', letters.ofLevel),
  });
}

/** A dot for every plant; the lost ones in a row of their own. */
export function plantDots(
  dots: readonly PlantDot[],
  lost: readonly LostDot[],
  faceted: Faceted,
  linked: boolean | undefined,
): Plot.Markish[] {
  const links = linked ? { href: (d: { potId: string }) => `#pot:${d.potId}` } : {};
  return [
    Plot.dot(dots, {
      ...faceted,
      x: 'at',
      y: 'value',
      symbol: 'level',
      fill: 'level',
      stroke: 'level',
      r: 2.8,
      fillOpacity: 0.7,
      strokeWidth: 0.8,
      title: 'title',
      ...links,
    }),
    Plot.dot(lost, {
      ...faceted,
      x: 'at',
      frameAnchor: 'bottom',
      dy: -5,
      r: 3.4,
      strokeWidth: 1.4,
      symbol: lostSymbol,
      stroke: 'currentColor',
      title: 'title',
      ...links,
    }),
  ];
}

const lostSymbol = ({ why }: LostDot): (typeof SYMBOLS)[number] =>
  why === 'dead' ? 'times' : why === 'missing' ? 'circle' : 'triangle';

/** The mean of each tray or shelf, where a factor is on these. */
export function unitMarks({ units, levels }: PlantGroups): Plot.Markish {
  const reach = 0.3 / Math.max(2, units.length / levels.length);
  return Plot.ruleY(units, {
    x1: (d: { at: number }) => d.at - reach,
    x2: (d: { at: number }) => d.at + reach,
    y: 'mean',
    stroke: 'currentColor',
    strokeWidth: 1.6,
    title: 'title',
  });
}

/** Letters above each combination. */
export function groupLetters(
  groups: readonly PlantGroup[],
  letterOf: PlantLetters['ofGroup'],
  faceted: Faceted,
): Plot.Markish[] {
  if (!letterOf) return [];
  return [
    Plot.text(groups, {
      ...faceted,
      x: 'at',
      frameAnchor: 'top',
      dy: -8,
      fontWeight: 700,
      text: letterOf,
    }),
  ];
}

/** The key in the margin above the first panel. */
export function keyMarks(entries: readonly PlantKeyEntry[], panel: string | null): Plot.Markish[] {
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

/** Adjusted means with their intervals. */
export function meanMarks(groups: readonly PlantGroup[], faceted: Faceted): Plot.Markish[] {
  const means = groups.flatMap(({ panel, at, mean }) => (mean ? [{ panel, at, ...mean }] : []));
  const line = { stroke: 'currentColor', strokeWidth: 2.4 };
  return [
    Plot.ruleX(means, { ...faceted, x: 'at', y1: 'lower', y2: 'upper', ...line }),
    Plot.ruleY(means, {
      ...faceted,
      y: 'mean',
      ...line,
      x1: (d: PlantDot) => d.at - MEAN_WIDTH,
      x2: (d: PlantDot) => d.at + MEAN_WIDTH,
    }),
  ];
}
