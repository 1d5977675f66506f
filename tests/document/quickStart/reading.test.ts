import { describe, expect, it } from 'vitest';
import {
  readGrid,
  readLevels,
  readQuestion,
  saySettings,
} from '../../../renderer/document/quickStart';
import { speakAs, STANDARD } from '../../../renderer/words';

describe('pots in a tray as people type them', () => {
  it.each(['9 × 9', '9x9', '9X9', '9*9', '9 by 9', '9 9', ' 9  ×9 '])('reads %s', (text) => {
    expect(readGrid(text)).toEqual({ ok: true, value: { columns: 9, rows: 9 } });
  });

  it.each([
    ['81', '81 in how many rows? Type pots across × rows, such as 9 × 9.'],
    ['48', '48 in how many rows? Type pots across × rows, such as 8 × 6.'],
    ['', 'Found nothing; pots across × rows are expected, such as 9 × 9.'],
    ['nine by nine', 'Found “nine by nine”; pots across × rows are expected, such as 9 × 9.'],
    ['0 × 9', 'Found “0 × 9”; 1 to 60 a row are expected.'],
    ['61 × 9', 'Found “61 × 9”; 1 to 60 a row are expected.'],
    ['-9 × 9', 'Found “-9 × 9”; pots across × rows are expected, such as 9 × 9.'],
  ])('refuses %s and says what to type', (text, expected) => {
    expect(readGrid(text)).toEqual({ ok: false, expected });
  });

  it('takes the most that a tray may have', () => {
    expect(readGrid('60 × 60')).toMatchObject({ ok: true });
  });
});

describe('a sentence that says what is compared', () => {
  const told = (sentence: string) =>
    readQuestion(sentence).factors.map(
      ({ name, levels, through, unit }) => `${name} ${levels.length} ${through} ${unit}`,
    );

  it.each([
    [
      'two lights, three media, two kinds of plant',
      ['light 2 light shelf', 'medium 3 medium pot', 'kind 2 plant pot'],
    ],
    [
      'I want to compare 2 lamps, 3 soils and 4 cultivars.',
      ['lamp 2 light shelf', 'soil 3 medium pot', 'cultivar 4 plant pot'],
    ],
    ['three levels of feed × two pot sizes', ['feed 3 water shelf', 'pot size 2 hand pot']],
    ['two EC strengths', ['EC strength 2 water shelf']],
    ['five species by two light spectra', ['species 5 plant pot', 'light spectrum 2 light shelf']],
    ['three varieties', ['variety 3 plant pot']],
    ['two potting mixes', ['potting mix 2 medium pot']],
  ])('reads “%s”', (sentence, factors) => {
    expect(told(sentence)).toEqual(factors);
  });

  it('says which parts name nothing to compare', () => {
    expect(readQuestion('bright light, one medium and two kinds')).toMatchObject({
      factors: [{ name: 'kind' }],
      unread: ['bright light', 'one medium'],
    });
    expect(readQuestion('two lights, 2 lights')).toMatchObject({ unread: ['2 lights'] });
    expect(readQuestion(' , ')).toEqual({ factors: [], unread: [] });
  });
});

describe('levels as typed', () => {
  it('are parted by commas, semicolons or the word or', () => {
    expect(readLevels('bright, dim 60 %; dark or  shade,')).toEqual([
      'bright',
      'dim 60 %',
      'dark',
      'shade',
    ]);
    // A name that merely holds the letters stays whole.
    expect(readLevels('Florence, organic')).toEqual(['Florence', 'organic']);
    expect(readLevels('EC 1.2, EC 2.4')).toEqual(['EC 1.2', 'EC 2.4']);
    speakAs({ ...STANDARD, decimal: ',' });
    const read = ['EC 1,2, EC 2,4', 'EC 1,2; EC 2,4', 'bright,dim'].map(readLevels);
    speakAs(STANDARD);
    expect(read).toEqual([
      ['EC 1,2', 'EC 2,4'],
      ['EC 1,2', 'EC 2,4'],
      ['bright', 'dim'],
    ]);
  });

  it('set what their figure and unit say, and nothing else', () => {
    const light = { name: 'light', through: 'light' } as const;
    expect(saySettings({ ...light, levels: ['bright', 'dim 60 %'] })).toBe(
      'bright: as drawn · dim 60 %: lamps at 60 %',
    );
    expect(saySettings({ ...light, levels: ['long 16 h', 'short 12,5 h'] })).toBe(
      'long 16 h: 16 h a day · short 12,5 h: 12.5 h a day',
    );
    expect(saySettings({ ...light, levels: ['hall 1', '160 %', '25 h'] })).toBe('');
    expect(
      saySettings({ name: 'feed', through: 'water', levels: ['EC 1.2', 'weak', '2 mS/cm'] }),
    ).toBe('EC 1.2: EC 1.2 mS/cm · weak: as drawn · 2 mS/cm: EC 2 mS/cm');
    expect(saySettings({ name: 'feed', through: 'water', levels: ['recipe 3', 'recipe 4'] })).toBe(
      '',
    );
    expect(saySettings({ name: 'pot size', through: 'hand', levels: ['7 cm', '90 mm'] })).toBe(
      '7 cm: pots of 70 mm · 90 mm: pots of 90 mm',
    );
    expect(saySettings({ name: 'pruning', through: 'hand', levels: ['7 cm', 'none'] })).toBe('');
  });
});
