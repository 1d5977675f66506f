import { analysisTerms } from './analysis';
import { designTerms } from './design';
import type { GlossaryEntry } from './entry';
import { lightTerms } from './light';
import { recordTerms } from './records';
import { waterTerms } from './water';

export type { GlossaryEntry } from './entry';

const entries = {
  ...designTerms,
  ...lightTerms,
  ...waterTerms,
  ...recordTerms,
  ...analysisTerms,
} as const;

/** Every term that is explained: a closed list. */
export type GlossaryTerm = keyof typeof entries;

export const glossary: Readonly<Record<GlossaryTerm, GlossaryEntry>> = entries;

/** By name, as a glossary is read. */
export const glossaryTerms: readonly GlossaryTerm[] = Object.keys(entries)
  .filter(isGlossaryTerm)
  .sort((a, b) => glossary[a].name.localeCompare(glossary[b].name, 'en'));

export function isGlossaryTerm(word: string): word is GlossaryTerm {
  return Object.hasOwn(entries, word);
}

/** How a term is written on screen. */
export function phrasesOf(term: GlossaryTerm): readonly string[] {
  const { phrases, name, term: formal } = glossary[term];
  return phrases ?? [name, ...(formal === undefined ? [] : [formal])].map(withinSentence);
}

/** `Flood depth` is found within a sentence too; `PPFD` and `Tukey–Kramer` stand as they are. */
function withinSentence(phrase: string): string {
  const [first = ''] = phrase.split(/[\s–]/);
  return first === first.toUpperCase() ? phrase : lowered(phrase);
}

const lowered = (phrase: string) => phrase.charAt(0).toLowerCase() + phrase.slice(1);

const termOf: ReadonlyMap<string, GlossaryTerm> = new Map(
  glossaryTerms.flatMap((term) => phrasesOf(term).map((phrase) => [phrase, term] as const)),
);

/** Any phrase of more than one sign, the longest first, as a word of its own. */
const anyPhrase = new RegExp(
  `(?<![\\p{L}\\p{N}])(?:${[...termOf.keys()]
    .filter((phrase) => phrase.length > 1 || !/\p{L}/u.test(phrase))
    .sort((a, b) => b.length - a.length)
    .map(inEitherCase)
    .join('|')})(?![\\p{L}\\p{N}])`,
  'gu',
);

function inEitherCase(phrase: string): string {
  const [first = '', ...rest] = phrase.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  const upper = first.toUpperCase();
  return `${upper === first ? first : `[${upper}${first}]`}${rest.join('')}`;
}

export interface Marked {
  readonly text: string;
  /** null: plain words. */
  readonly term: GlossaryTerm | null;
}

/** A label cut at the terms that it holds; each is marked where it stands first. */
export function marked(text: string): readonly Marked[] {
  // A single letter is a term as a whole label only, such as the head of a column.
  const whole = termOf.get(text);
  if (whole !== undefined) return [{ text, term: whole }];
  const parts: Marked[] = [];
  const done = new Set<GlossaryTerm>();
  let from = 0;
  for (const { 0: phrase, index: at } of text.matchAll(anyPhrase)) {
    const term = termOf.get(phrase) ?? termOf.get(lowered(phrase));
    if (term === undefined || done.has(term)) continue;
    if (at > from) parts.push({ text: text.slice(from, at), term: null });
    parts.push({ text: phrase, term });
    done.add(term);
    from = at + phrase.length;
  }
  if (from < text.length) parts.push({ text: text.slice(from), term: null });
  return parts;
}
