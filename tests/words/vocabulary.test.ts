import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

/**
 * Words that the program has better ones for, each with the better one. What a person reads is held
 * to it: on screen, on paper and from the shell. Code may keep them in the keys of files.
 */
const better: readonly (readonly [worse: RegExp, better: string])[] = [
  [/\byardstick/i, 'error mean square'],
  [/\bby lot\b/i, 'shuffled, randomised'],
  [/false alarms accepted/i, 'risk of a false alarm'],
  [/found with a power/i, 'chance of finding it'],
  [/draws? that (is|are) good enough|draw was good enough/i, 'how picky'],
  [/\bfix(ed)? the rule|\brule fixed/i, 'lock the analysis'],
  [/what answers|model that answers|is answered by/i, 'main result, planned analysis'],
  [/\blikeness\b/i, 'neighbouring pots alike'],
  [/position by position/i, 'no correction for place'],
  [/\bleft over\b/i, 'residuals'],
  [/power of the measurement/i, 'best transformation'],
  [/\bover sd\b/i, 'difference ÷ SD of pots'],
  [/\bin % of the second\b/i, 'in % of B'],
  [/\bheel\b|reach of the pump|pump’s reach/i, 'unusable volume'],
  [/thrown back|throws? (light )?back/i, 'reflecting sides, reflectance'],
  [/light leaves as|output known as/i, 'beam, light output given as'],
  [/for cameras/i, 'code to scan'],
  [/\bdish\b/i, 'tare'],
  [/\blaid on\b|\blay (it|them|kind) on\b/i, 'applied to'],
  [/\bas a case\b/i, 'claim nothing about'],
  [/bell curve/i, 'normal errors'],
  [/in no file/i, 'unsaved changes'],
  [/differ nowhere/i, 'both entries agree'],
  [/nothing is said of/i, 'say what is so'],
  [/\bno effect\b/i, 'no clear difference'],
];

/** Names of things that are no words to a reader, and messages about requests for the shell. */
const spared = /^redraw: |^left over\||^power: /;

it('says nothing in words that the program has better ones for', () => {
  const found = ['renderer', 'electron', 'shared-types'].flatMap((room) =>
    readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .flatMap((name) =>
        textsOf(readFileSync(join(root, room, name), 'utf8')).flatMap((text) =>
          better
            .filter(([worse]) => worse.test(text) && !spared.test(text))
            .map(([, word]) => `${room}/${name}: “${text.trim()}”: ${word}`),
        ),
      ),
  );
  expect(found).toEqual([]);
});

it('finds such words in a text, a template and between tags, and none in a comment', () => {
  const code = [
    "const a = 'drawn by lot';",
    // The code under test is itself a template.
    'const b = `by ${name} lot`;',
    '// drawn by lot',
    '<p>',
    '  Shuffled by lot',
    '</p>',
  ].join('\n');
  expect(textsOf(code).filter((text) => text.includes('by lot'))).toEqual([
    'drawn by lot',
    '  Shuffled by lot',
  ]);
});

/** A value within a template. */
const PART = /\$\{[^}]*\}/g;

/** What of a source may be read by a person: texts of more than one word. */
function textsOf(source: string): string[] {
  const bare = source.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/(^|\s)\/\/[^\n]*/g, '');
  const written = [...bare.matchAll(/'([^'\\\n]*)'|"([^"\\\n]*)"|`([^`]*)`/g)].flatMap(
    ([, single, double, template]) => single ?? double ?? template?.replaceAll(PART, '…') ?? [],
  );
  const between = bare.split('\n').filter((line) => /^\s*[A-Za-z][^=;{}()<>]*$/.test(line));
  return [...written, ...between].filter((text) => / /.test(text.trim()));
}
