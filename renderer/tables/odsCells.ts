/**
 * How many cells a sheet of an OpenDocument text comes to: a row and a cell may say of themselves that
 * they are repeated (ODF 1.3, 19.675.2 and 19.675.3), and a file of two kilobytes be as many as a
 * reader can never hold. Cells without content are not counted; nobody keeps them.
 */
export function odsCells(content: string): number {
  let [most, inRow, repeats] = [0, 0, 1];
  const close = (): void => {
    most += inRow * repeats;
    [inRow, repeats] = [0, 1];
  };
  for (const [tag, end = '', kind = '', traits = ''] of content.matchAll(TAGS)) {
    if (kind === 'row') {
      close();
      if (end === '') repeats = repeatedIn(traits, 'rows');
    } else if (end === '' && (!tag.endsWith('/>') || /value/.test(traits))) {
      inRow += repeatedIn(traits, 'columns');
    }
  }
  close();
  return most;
}

/** Under whatever prefix the file gives to the names of tables. */
const TAGS = /<(\/?)(?:[^\s<>:/]+:)?table-(row|cell)\b([^>]*)>/g;

function repeatedIn(traits: string, what: 'rows' | 'columns'): number {
  const found = new RegExp(`number-${what}-repeated\\s*=\\s*["']\\s*(\\d+)`).exec(traits);
  return found ? Math.max(1, Number(found[1])) : 1;
}
