import { rounded } from '../words';

/** Points to millimetres: 1 pt = 25.4/72 mm. */
export function ptToMm(pt: number): number {
  return (pt * 25.4) / 72;
}

/** A coordinate for SVG: enough digits for print, no exponent. */
export function mm(value: number): string {
  const text = String(rounded(value, 3));
  return text === '-0' ? '0' : text;
}

// Widths of the signs from space to tilde in thousandths of the type size, for the metrics that
// the fonts of PAGE_FONT share.
const WIDTHS = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
  556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
  611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
  667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
  222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
] as const;

/** Fonts of one set of widths, so that what fits here fits on every machine. */
export const PAGE_FONT = "'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif";

/**
 * Room that a line of text takes at a type size, mm; never less than it really takes in PAGE_FONT
 * for Latin text. Bold takes up to a tenth more than plain.
 */
export function textWidthMm(text: string, sizeMm: number, bold = false): number {
  let thousandths = 0;
  for (const sign of text) {
    const code = sign.codePointAt(0) ?? 0;
    const wide = code >= 0x2e80 || code === 0x2014 || code === 0x2026;
    thousandths += WIDTHS[code - 32] ?? (wide ? 1000 : 667);
  }
  return (thousandths / 1000) * sizeMm * (bold ? 1.1 : 1.01);
}

/** The text, or as much of its beginning as fits with `…` after it; '' where not one sign fits. */
export function fitText(text: string, sizeMm: number, widthMm: number, bold = false): string {
  if (textWidthMm(text, sizeMm, bold) <= widthMm) return text;
  const signs = [...text];
  while (signs.length > 0) {
    signs.pop();
    const short = `${signs.join('').trimEnd()}…`;
    if (signs.length > 0 && textWidthMm(short, sizeMm, bold) <= widthMm) return short;
  }
  return '';
}

/** The text, or as much of its end as fits with `…` before it: codes differ at their ends. */
export function fitEnd(text: string, sizeMm: number, widthMm: number, bold = false): string {
  if (textWidthMm(text, sizeMm, bold) <= widthMm) return text;
  const signs = [...text];
  while (signs.length > 1) {
    signs.shift();
    const short = `…${signs.join('')}`;
    if (textWidthMm(short, sizeMm, bold) <= widthMm) return short;
  }
  return '';
}

/**
 * Text broken into lines that fit, between words where it can be. What does not fit into `most`
 * lines is cut with `…`.
 */
export function wrapText(
  text: string,
  sizeMm: number,
  widthMm: number,
  most = Infinity,
  bold = false,
): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text
    .split(/\s+/)
    .filter(Boolean)
    .flatMap((w) => breakWord(w))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (textWidthMm(longer, sizeMm, bold) <= widthMm) line = longer;
    else {
      if (line !== '') lines.push(line);
      line = word;
    }
  }
  if (line !== '') lines.push(line);
  if (lines.length <= most) return lines;
  const kept = lines.slice(0, most);
  const rest = lines.slice(most - 1).join(' ');
  kept[most - 1] = fitText(`${rest} …`, sizeMm, widthMm, bold);
  return kept;

  function breakWord(word: string): string[] {
    const parts: string[] = [];
    let part = '';
    for (const sign of word) {
      if (part !== '' && textWidthMm(part + sign, sizeMm, bold) > widthMm) {
        parts.push(part);
        part = '';
      }
      part += sign;
    }
    return [...parts, part];
  }
}
