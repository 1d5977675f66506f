import { sureTogether, type Findings } from '../../../engine/findings';
import { keyOf } from './key';
import { lettersOf, type LostDot, type PlantGroup, type PlantGroups } from './plantGroups';

/** Letters of panels, of levels and of single combinations. */
export interface PlantLetters {
  ofPanel: ReadonlyMap<string, string>;
  ofLevel: ReadonlyMap<string, string>;
  ofGroup: ((group: PlantGroup) => string) | null;
}

export const withLetter = (name: string, letters: ReadonlyMap<string, string>): string => {
  const letter = letters.get(name);
  return letter === undefined ? name : `${name} ${letter}`;
};

/** Where letters stand: at single levels, or at each combination where the factors act on each other. */
export function lettersIn(findings: Findings, { panelRole, levelRole }: PlantGroups): PlantLetters {
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
export interface KeyText {
  level: string | null;
  text: string;
}

/** A text of the key with its place, px from the corner of the first panel. */
export interface PlantKeyEntry extends KeyText {
  dx: number;
  dy: number;
}

/** What the key names: levels that stand in panels, and why plants are lost. */
export function keyTexts(
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
export function keyAbove(
  texts: readonly KeyText[],
  width: number,
): { heightPx: number; entries: PlantKeyEntry[] } {
  const { entries, height } = keyOf(
    texts.map(({ text }) => text),
    width - 60,
  );
  const heightPx = texts.length === 0 ? 10 : height + 8;
  return {
    heightPx,
    entries: entries.map(({ index, text, x, y }) => ({
      text,
      dx: x,
      dy: y - heightPx,
      level: texts[index]?.level ?? null,
    })),
  };
}
