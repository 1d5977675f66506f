import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { glossary, glossaryTerms, marked, phrasesOf } from '../../renderer/words';
import { positionModelLabels, positionModels } from '../../shared-types/trial/position';
import { schemeLabels, schemes } from '../../shared-types/trial/scheme';

const termsIn = (text: string) => marked(text).flatMap(({ term }) => term ?? []);

/** What the program calls things, plain and formal: the terms that its words are held to. */
const canonical = [
  ...['what is compared', 'treatment factor', 'levels', 'applied through'],
  ...['own treatment for each', 'experimental unit', 'shuffled', 'randomised', 'fixed by you'],
  ...['property of the plant', 'error mean square', 'error df', 'block', 'degrees of freedom'],
  ...['typical difference between equal plants', 'standard deviation', 'risk of a false alarm'],
  ...['significance level α', 'chance of finding it', 'how picky', 'acceptance share'],
  ...['lock the analysis', 'pre-specified analysis', 'main result', 'primary outcome'],
  ...['neighbouring pots alike', 'AR(1)×AR(1)', 'no correction for place'],
  ...['could the shuffle alone do this?', 'randomisation test', 'is a pattern left on the rack?'],
  ...['Moran’s I of residuals', 'best transformation', 'Box–Cox λ', 'difference ÷ SD of pots'],
  ...['standardised effect (d)', 'in % of B', 'relative difference', 'groups'],
  ...['compact letter display', 'flood depth', 'unusable volume', 'dead volume'],
  ...['reflecting sides', 'reflectance', 'beam', 'intensity distribution', 'photon flux', '±'],
  ...['uncertainty', 'unusual value', 'outlier', 'code to scan', 'QR code', 'Data Matrix', 'tare'],
];

describe('the glossary', () => {
  it.each(canonical)('explains “%s”, in the middle of a label and at its beginning', (words) => {
    expect(termsIn(`of ${words}, here`)).not.toEqual([]);
    expect(termsIn(words.charAt(0).toUpperCase() + words.slice(1))).not.toEqual([]);
  });

  it('explains every scheme and every correction for place by its label', () => {
    const labels = [
      ...schemes.map((scheme) => schemeLabels[scheme]),
      ...positionModels.map((model) => positionModelLabels[model]),
    ];
    expect(labels.filter((label) => termsIn(label).length === 0)).toEqual([]);
  });

  it('explains every abbreviation that stands in a label of the panes', () => {
    const unexplained = labelsOfPanes().flatMap((label) => {
      const plain = marked(label).filter(({ term }) => term === null);
      const short = plain.flatMap(({ text }) => text.match(/\b[A-Z]{2,}\b/g) ?? []);
      return short
        .filter((word) => !everyday.has(word) && termsIn(word).length === 0)
        .map((word) => `${word} in “${label}”`);
    });
    expect(unexplained).toEqual([]);
  });

  it('says each in short sentences, and under one term only', () => {
    const long = glossaryTerms.flatMap((term) =>
      glossary[term].says
        .split(/(?<=[.?:]) /)
        .filter((sentence) => sentence.split(' ').length > 25)
        .map((sentence) => `${term}: ${sentence}`),
    );
    expect(long).toEqual([]);
    const phrases = glossaryTerms.flatMap((term) => phrasesOf(term));
    expect(phrases.filter((phrase, i) => phrases.indexOf(phrase) < i)).toEqual([]);
    expect(glossaryTerms.filter((term) => termsIn(phrasesOf(term)[0] ?? '')[0] !== term)).toEqual(
      [],
    );
  });
});

describe('marking terms in a label', () => {
  it('keeps every sign of it, and marks each term once', () => {
    for (const text of ['', 'p', 'Error df of F, p and df', 'PPFD, µmol m⁻² s⁻¹', 'A (B) [C]']) {
      expect(
        marked(text)
          .map((part) => part.text)
          .join(''),
      ).toBe(text);
    }
    expect(termsIn('Blocks in a block: PPFD and PPFD')).toEqual(['block', 'ppfd']);
  });

  it('leaves words alone that only hold one, and single letters within a label', () => {
    for (const text of ['Blockage', 'Levelled', 'SDs', 'map', 'press F to fit', 'a p of 3']) {
      expect(termsIn(text)).toEqual([]);
    }
    expect(termsIn('p')).toEqual(['pValue']);
  });
});

/** Abbreviations that need no explaining: of files, codes and everyday units. */
const everyday = new Set(['CSV', 'PDF', 'HTML', 'SVG', 'PNG', 'JSON', 'ID', 'UTF']);

/** Texts of labels, titles and heads, as they are written in the panes. */
function labelsOfPanes(): string[] {
  const folder = join(import.meta.dirname, '../../renderer/panes');
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .flatMap((name) => {
      const text = readFileSync(join(folder, name), 'utf8');
      return [...text.matchAll(/\b(?:label|title|head)(?:=|: )\{?['"`]([^'"`{]+)['"`]/g)].flatMap(
        ([, label]) => label ?? [],
      );
    });
}
