import { describe, expect, it } from 'vitest';
import { reasonOf, Refusal, unlessRefused } from '../../renderer/words';

describe('a refusal', () => {
  it('gives its sentence, and null where only the value is wanted', () => {
    const refuse = () => {
      throw new Refusal('Tray 2B holds no pots.');
    };
    expect(reasonOf(new Refusal('Tray 2B holds no pots.'))).toBe('Tray 2B holds no pots.');
    expect(unlessRefused(refuse)).toBeNull();
    expect(unlessRefused(() => 3)).toBe(3);
  });

  it.each([new Error('a plain one'), new TypeError('x is not a function'), 'a text'])(
    'is not what a mistake of the program is taken for: %s',
    (mistake) => {
      const fail = () => {
        throw mistake;
      };
      expect(() => reasonOf(mistake)).toThrow();
      expect(() => unlessRefused(fail)).toThrow();
    },
  );
});
