import { markSchema, type Mark } from '../../../shared-types/records';

/** Short words for a plant that cannot be measured. */
const SHORT: Readonly<Record<string, Mark['mark']>> = {
  d: 'dead',
  m: 'missing',
  x: 'excluded',
};

/** Other words that growers write beside a plant. */
const WORDS: Readonly<Record<string, Mark['mark']>> = {
  died: 'dead',
  tot: 'dead',
  '†': 'dead',
  gone: 'missing',
  fehlt: 'missing',
  ausgeschlossen: 'excluded',
};

/** The mark that a typed word stands for: in full, or by its first letter; undefined: none. */
export function typedMark(text: string): Mark['mark'] | undefined {
  const word = text.trim().toLowerCase();
  return SHORT[word] ?? markSchema.shape.mark.safeParse(word).data;
}

/** The same of a table's column of marks, where growers have more words for it. */
export function markIn(text: string): Mark['mark'] | undefined {
  return WORDS[text.trim().toLowerCase()] ?? typedMark(text);
}
