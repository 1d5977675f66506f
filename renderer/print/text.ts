const ESCAPES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in HTML or SVG, in content and in attributes. */
export function escape(text: string): string {
  return text.replace(/[&<>"']/g, (c) => ESCAPES[c] ?? c);
}

/** Points to millimetres: 1 pt = 25.4/72 mm. */
export function ptToMm(pt: number): number {
  return (pt * 25.4) / 72;
}

/** A coordinate for SVG: enough digits for print, no exponent. */
export function mm(value: number): string {
  return String(Number(value.toFixed(3)));
}
