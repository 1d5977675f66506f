/**
 * Spreadsheets run text that begins with = + - @ or a control character, also after spaces, as a
 * formula, whoever wrote it. Our own rule: such text leaves with an apostrophe in front, which a
 * spreadsheet takes as "this is text"; coming back in, the apostrophe is taken off again. Numbers
 * are not text and are left alone.
 */
const DANGEROUS = /^'*\s*[=+\-@\t\r\n]/;

export function guardText(text: string): string {
  return DANGEROUS.test(text) ? `'${text}` : text;
}

export function unguardText(text: string): string {
  return text.startsWith("'") && DANGEROUS.test(text.slice(1)) ? text.slice(1) : text;
}
