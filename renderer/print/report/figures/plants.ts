import type { Findings } from '../../../engine/findings';
import { treatmentColours } from '../../../ui/colour/palette';
import { list, plural } from '../../../words';
import { drawFigure, SYMBOLS, type Figure, type FigureSize } from './draw';
import { plantChoices, plantGroups } from './plantGroups';
import { keyAbove, keyTexts, lettersIn } from './plantKey';
import { groupLetters, keyMarks, meanMarks, nameAxis, plantDots, unitMarks } from './plantMarks';

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
      nameAxis(found, letters, tick.ems),
      ...plantDots(dots, lost, faceted, size.links),
      ...keyMarks(key.entries, panelRole ? (panels[0] ?? '') : null),
      ...meanMarks(groups, faceted),
      unitMarks(found),
      ...groupLetters(groups, letters.ofGroup, faceted),
    ],
  });
}

const EM_PX = 6.6;

/** How wide a name may run below its dots before it breaks, and how high the names are then. */
function labelsBelow(names: readonly string[], px: number): { ems: number; heightPx: number } {
  const lines = Math.max(...names.map((name) => Math.ceil(((name.length + 3) * EM_PX) / px)));
  return { ems: Math.max(3, px / 12), heightPx: 8 + 14 * Math.min(4, lines) };
}
