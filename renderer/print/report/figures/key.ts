const LETTER_PX = 6.4;
const ROW_PX = 18;
const MARK_PX = 34;

export interface KeyEntry {
  index: number;
  text: string;
  /** Left end of its mark, and middle of its line from the key's top, px. */
  x: number;
  y: number;
}

/** The entries of a key set in lines that fit the width. */
export function keyOf(texts: readonly string[], width: number) {
  let [x, row] = [0, 0];
  const entries = texts.map((text, index): KeyEntry => {
    const needs = MARK_PX + text.length * LETTER_PX;
    if (x > 0 && x + needs > width) [x, row] = [0, row + 1];
    const entry = { index, text, x, y: (row + 0.5) * ROW_PX + 4 };
    x += needs;
    return entry;
  });
  return { entries, height: (row + 1) * ROW_PX + 4 };
}
