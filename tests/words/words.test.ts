import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  asIntervals,
  figure,
  figures,
  fixed,
  formatEstimate,
  formatP,
  formatShare,
  asStandardError,
  clock,
  duration,
  intervalDecimals,
  list,
  noticesOfStage,
  percent,
  plural,
  said,
  saidP,
  saidRange,
  say,
  trimmed,
  withSign,
} from '../../renderer/words';

const decimalsOf = (text: string) => /\.(\d+)/.exec(text)?.[1]?.length ?? 0;

test('values of one kind carry like decimals, however wide the interval of each', () => {
  const say = asIntervals([
    [8.32, 8.76],
    [7.4, 9.6],
  ]);
  expect([8.54, 8.5].map(say)).toEqual(['8.54', '8.50']);
  expect(asIntervals([])(8.5)).toBe('8.50');
});

test('an estimate and both ends of its interval carry the same decimals, by the interval’s width', () => {
  expect(formatEstimate(10.2143, 7.8461, 12.5825, 'g')).toBe('10.2 g (7.8 to 12.6)');
  expect(saidRange(-2.4132, 0.2981)).toBe('−2.4 to 0.3');
  expect(formatEstimate(0.01234, 0.0119, 0.0128)).toBe('0.01234 (0.01190 to 0.01280)');
  expect(formatEstimate(1234.4, 1150.2, 1318.6, 'g')).toBe('1234 g (1150 to 1319)');
  const size = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const width = fc.double({ min: 1e-6, max: 1e5, noNaN: true });
  fc.assert(
    fc.property(size, width, (estimate, half) => {
      const text = formatEstimate(estimate, estimate - half, estimate + half);
      const [, at = '', from = '', to = ''] = /^(\S+) \((\S+) to (\S+)\)$/.exec(text) ?? [];
      const decimals = intervalDecimals(estimate - half, estimate + half);
      if (decimals === null) throw new Error('an interval of this width has decimals');
      expect([at, from, to].map(decimalsOf)).toEqual([decimals, decimals, decimals]);
    }),
  );
});

test('p is told to three decimals, or more where those hide on which side of α it lies', () => {
  expect(formatP(0.0124, 0.05)).toBe('0.012');
  expect(formatP(0.0004, 0.05)).toBe('< 0.001');
  expect(formatP(0.0496, 0.05)).toBe('0.0496');
  expect(formatP(0.0504, 0.05)).toBe('0.0504');
  expect(formatP(0.05, 0.05)).toBe('0.050');
  expect(formatP(0.0496, 0.1)).toBe('0.050');
  expect(formatP(0.0996, 0.1)).toBe('0.0996');
  expect(formatP(0.0007, 0.0005)).toBe('0.001');
  expect(formatP(0.00054, 0.0005)).toBe('0.001');
  expect(formatP(0.0002, 0.0005)).toBe('0.0002');
  expect(saidP(0.0004, 0.05)).toBe('p < 0.001');
  expect(saidP(0.2, 0.05)).toBe('p = 0.200');
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(share, fc.constantFrom(0.05, 0.01, 0.1, 0.0005), (p, alpha) => {
      const text = formatP(p, alpha);
      // To within a millionth, the text lies on the same side as p.
      if (Math.abs(p - alpha) < 1e-6) return;
      const read = Number(text.replace('< ', ''));
      if (text.startsWith('<')) expect(p < read && read <= alpha).toBe(true);
      else expect(read < alpha).toBe(p < alpha);
    }),
  );
});

test('figures have a true minus sign, none before nothing, and no tail of a sum', () => {
  expect(trimmed(4.1 + 0.1, 3)).toBe('4.2');
  expect(trimmed(-0.0001, 2)).toBe('0');
  expect(fixed(-0.0001, 2)).toBe('0.00');
  expect(fixed(-1.26, 1)).toBe('−1.3');
  expect(withSign(0.04, 1)).toBe('0.0');
  expect(withSign(1.26, 1)).toBe('+1.3');
  expect(withSign(-1.26, 1)).toBe('−1.3');
  expect(figures(9.996)).toBe('10.0');
  expect(figures(2.5)).toBe('2.50');
  expect(figure(2.5)).toBe('2.5');
  expect(figure(1234.5)).toBe('1235');
  expect(said(-0.5, 'g')).toBe('−0.500 g');
  expect([NaN, Infinity, -Infinity].map((v) => [figure(v), figures(v), fixed(v, 2)])).toEqual([
    ['–', '–', '–'],
    ['∞', '∞', '∞'],
    ['−∞', '−∞', '−∞'],
  ]);
});

test('shares, counts, lists and lengths', () => {
  expect(percent(0.123)).toBe('12 %');
  expect(formatShare(0.996)).toBe('over 99 %');
  expect(formatShare(1)).toBe('100 %');
  expect(formatShare(0.0049)).toBe('0.49 %');
  expect([plural(1, 'pot'), plural(0, 'pot'), plural(2, 'shelf', 'shelves')]).toEqual([
    '1 pot',
    '0 pots',
    '2 shelves',
  ]);
  expect([list([]), list(['a']), list(['a', 'b']), list(['a', 'b', 'c'])]).toEqual([
    '',
    'a',
    'a and b',
    'a, b and c',
  ]);
  // One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  expect(say('length', 'imperial', 127)).toBe('5 in');
  expect(say('length', 'metric', 12.25)).toMatch(/^12\.[23] mm$/);
});

test('a stage’s notices say which stage found them', () => {
  const notice = noticesOfStage('flood');
  expect(
    notice('reservoir-too-small', 'stop', ['plan'], 'The reservoir is short by 3 L.', 'Fill it.'),
  ).toEqual({
    kind: 'reservoir-too-small',
    severity: 'stop',
    stage: 'flood',
    about: ['plan'],
    text: 'The reservoir is short by 3 L.',
    remedy: 'Fill it.',
  });
});

test('an estimate and its standard error are told in like decimals', () => {
  const say = (value: number, se: number) => [value, se].map(asStandardError(se)).join(' ± ');
  expect(say(0.0713456, 0.00091)).toBe('0.0713 ± 0.0009');
  expect(say(12.3456, 0.6)).toBe('12.3 ± 0.6');
  expect(say(0.2, 0.04)).toBe('0.20 ± 0.04');
});

test('a duration is said in the unit that keeps its figure small, an hour as on a clock', () => {
  expect([40, 270, 4000, 8280].map(duration)).toEqual(['40 s', '4.5 min', '66.7 min', '2.3 h']);
  expect([0, 6 + 5 / 60, 23.5].map(clock)).toEqual(['0:00', '6:05', '23:30']);
});

test('a notice begins as a sentence does, but for a name with a capital behind its first letter', () => {
  const notice = noticesOfStage('trial');
  const told = (text: string) => notice('low-power', 'warn', [], text, '').text;
  expect(told('lamp is not replicated.')).toBe('Lamp is not replicated.');
  expect(told('pH is not replicated.')).toBe('pH is not replicated.');
});
