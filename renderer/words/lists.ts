import { spokenLocale } from './locale';

/** `1 pot`, `3 pots`. */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** What stands between the figures of a list: no comma where that is the decimal sign. */
export const listSign = (): string => (spokenLocale().decimal === ',' ? '; ' : ', ');

/** `a`, `a and b`, `a, b and c`; semicolons between figures and days that have a comma themselves. */
export function list(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  const between = words.some((word) => /[0-9], ?[0-9]/.test(word)) ? '; ' : ', ';
  return `${words.slice(0, -1).join(between)} and ${words.at(-1) ?? ''}`;
}

/** A name within a sentence; one with a capital behind its first letter, as EC, stays. */
export function inSentence(name: string): string {
  return /^.\p{Lu}/u.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

/** The start of a sentence; a word with a capital behind its first letter, as pH, stays. */
export function capital(text: string): string {
  return /^.\p{Lu}/u.test(text) ? text : text.charAt(0).toUpperCase() + text.slice(1);
}
