/**
 * Spreadsheets run text that begins with = + - @ or a control character, also after spaces, as a
 * formula, whoever wrote it; and readers take the word NA for a missing value. Our own rule: such
 * text leaves with an apostrophe in front, which a spreadsheet takes as "this is text"; coming back
 * in, the apostrophe is taken off again. Numbers are not text and are left alone.
 */
const MISREAD = /^'*(?:\s*[=+\-@\t\r\n]|NA$)/;

/** The text as it leaves. `unguardText` gives any text back as it was. */
export function guardText(text: string): string {
  return MISREAD.test(text) ? `'${text}` : text;
}

/** The text of a cell without the apostrophe that `guardText` puts in front. */
export function unguardText(text: string): string {
  return text.startsWith("'") && MISREAD.test(text.slice(1)) ? text.slice(1) : text;
}
