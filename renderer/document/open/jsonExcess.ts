import { MAX_DEPTH } from './guard';

/** Signs between the values of a text; the largest trial has a fifth of this. */
const MOST_PARTS = 8_000_000;
/** Of a text shorter than this no reading can take much. */
const SHORT = 1_000_000;

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const isOpening = (sign: number): boolean => sign === 0x5b || sign === 0x7b;
const isClosing = (sign: number): boolean => sign === 0x5d || sign === 0x7d;
const COMMA = 0x2c;

/**
 * What of a JSON text is built to exhaust its reader, found before it is read: a few bytes of text
 * can ask for fifty times their size. Null where all is well.
 */
export function findJsonExcess(text: string): string | null {
  if (text.length < SHORT) return null;
  let depth = 0;
  let parts = 0;
  for (let at = 0; at < text.length; at++) {
    const sign = text.charCodeAt(at);
    if (sign === QUOTE) at = endOfString(text, at);
    else if (sign === COMMA) parts++;
    else if (isOpening(sign)) {
      parts++;
      if (++depth > MAX_DEPTH) return `more than ${MAX_DEPTH} levels of brackets`;
    } else if (isClosing(sign)) depth--;
    if (parts > MOST_PARTS) return `more than ${MOST_PARTS / 1e6} million values`;
  }
  return null;
}

/** Where the quote stands that ends a string; at the end of the text where none does. */
function endOfString(text: string, start: number): number {
  for (let at = text.indexOf('"', start + 1); at >= 0; at = text.indexOf('"', at + 1)) {
    let slashes = 0;
    while (text.charCodeAt(at - 1 - slashes) === BACKSLASH) slashes++;
    if (slashes % 2 === 0) return at;
  }
  return text.length;
}
