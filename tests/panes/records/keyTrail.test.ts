import { describe, expect, it } from 'vitest';
import {
  cameByMachine,
  endsLine,
  looksLikeLabel,
  NO_KEYS,
  valueThenLabel,
  withArrival,
  withKey,
  withLineEnd,
} from '../../../renderer/panes/records/grid/keyTrail';

/** Keys at a steady pace, the first at `startMs`. */
function typed(text: string, paceMs: number, startMs = 1000, trail = NO_KEYS) {
  let ms = startMs;
  for (const key of text) {
    trail = withKey(trail, key, ms);
    ms += paceMs;
  }
  return { trail, ms };
}

describe('the rhythm of keys', () => {
  it('tells a scanner, a key every few milliseconds, from a hand', () => {
    const scanner = typed('2B-C7', 4);
    expect(withLineEnd(scanner.trail, scanner.ms).burst).toBe('2B-C7');
    // Quick typists reach 120 words of five keys a minute: a key in 100 ms.
    const hand = typed('2B-C7', 100);
    expect(withLineEnd(hand.trail, hand.ms).burst).toBe('');
  });

  it('keeps apart what a hand typed before the scanner sent its label', () => {
    const hand = typed('12.5', 150);
    const both = typed('2B-C7', 4, hand.ms + 300, hand.trail);
    expect(withLineEnd(both.trail, both.ms).burst).toBe('2B-C7');
  });

  it('takes two line ends for one, and an Enter of its own for one of its own', () => {
    const { trail, ms } = typed('12.43', 4);
    const first = withLineEnd(trail, ms);
    expect(first.again).toBe(false);
    expect(withLineEnd(first.trail, ms + 5).again).toBe(true);
    expect(withLineEnd(first.trail, ms + 400).again).toBe(false);
    // The next weight came in between.
    const next = typed('9', 4, ms + 10, first.trail);
    expect(withLineEnd(next.trail, next.ms).again).toBe(false);
  });

  it('waits for a second line end from the moment the cursor has arrived', () => {
    const { trail, ms } = typed('12.43', 4);
    const slow = withArrival(withLineEnd(trail, ms).trail, ms + 500);
    expect(withLineEnd(slow, ms + 510).again).toBe(true);
    expect(withArrival(NO_KEYS, ms)).toBe(NO_KEYS);
  });

  it('knows carriage return and line feed also as keyboards write them', () => {
    const key = (name: string, ctrlKey = false) => ({ key: name, ctrlKey, altKey: false });
    expect(endsLine(key('Enter'))).toBe(true);
    expect(endsLine(key('j', true))).toBe(true);
    expect(endsLine(key('m', true))).toBe(true);
    expect(endsLine(key('j'))).toBe(false);
    expect(endsLine(key('Enter', true))).toBe(false);
  });
});

describe('figures alone', () => {
  it('are by machine at its pace, with the line end at once or three keys and more', () => {
    const came = (text: string, paceMs: number, pauseMs: number) => {
      const { trail, ms } = typed(text, paceMs);
      return cameByMachine(trail, text, ms - paceMs + pauseMs);
    };
    expect(came('1024', 4, 4)).toBe(true);
    // A scanner that ends its labels with nothing; the hand presses Enter later.
    expect(came('1024', 4, 900)).toBe(true);
    expect(came('12', 4, 4)).toBe(true);
    expect(came('12', 4, 900)).toBe(false);
    expect(came('7', 4, 4)).toBe(true);
    expect(came('7', 4, 30)).toBe(false);
    expect(came('1024', 100, 100)).toBe(false);
  });

  it('are not by machine where a hand typed some of them', () => {
    const hand = typed('1', 150);
    const both = typed('024', 4, hand.ms + 300, hand.trail);
    expect(cameByMachine(both.trail, '1024', both.ms)).toBe(false);
    expect(cameByMachine(NO_KEYS, '', 0)).toBe(false);
  });

  it('are those of a label from eight on, or with noughts before them by machine', () => {
    // EAN-8 and EAN-13 as in the General Specifications of GS1.
    expect(looksLikeLabel('96385074', false)).toBe(true);
    expect(looksLikeLabel('4006381333931', true)).toBe(true);
    expect(looksLikeLabel('0042', true)).toBe(true);
    for (const value of ['0042', '1234567', '12.43', '0.5', '0', '12345678.5']) {
      expect(looksLikeLabel(value, false)).toBe(false);
    }
    expect(looksLikeLabel('0', true)).toBe(false);
  });
});

describe('a value and a label in one line', () => {
  const labels = new Set(['2B-C7', '52B-C7', 't1:2:3']);
  const split = (text: string, burst = '') => valueThenLabel(text, burst, (s) => labels.has(s));

  it('is split where only one split makes sense', () => {
    expect(split('12.4t1:2:3')).toEqual({ value: '12.4', label: 't1:2:3' });
    expect(split('12,4 2B-C7')).toEqual({ value: '12,4 ', label: '2B-C7' });
  });

  it('is split by the rhythm where two would do, and not at all without it', () => {
    expect(split('12.52B-C7', '2B-C7')).toEqual({ value: '12.5', label: '2B-C7' });
    expect(split('12.52B-C7', '52B-C7')).toEqual({ value: '12.', label: '52B-C7' });
    expect(split('1252B-C7', '52B-C7')).toEqual({ value: '12', label: '52B-C7' });
    expect(split('1252B-C7')).toBeNull();
  });

  it('is split from figures alone by the rhythm only', () => {
    const numbered = (text: string, burst: string) =>
      valueThenLabel(text, burst, (s) => ['1024', '7', '24'].includes(s));
    expect(numbered('12.51024', '1024')).toEqual({ value: '12.5', label: '1024' });
    expect(numbered('12.51024', '')).toBeNull();
    // Two quick keys at the end of a value are no label yet.
    expect(numbered('12.524', '24')).toBeNull();
    expect(numbered('12.57', '7')).toBeNull();
  });

  it('is none where there is no label or no value', () => {
    expect(split('12.4')).toBeNull();
    expect(split('2B-C7', '2B-C7')).toBeNull();
    expect(split('x2B-C7')).toBeNull();
  });
});
