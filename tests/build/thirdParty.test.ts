import { expect, test } from 'vitest';
import { thirdParties } from '../../build/lib/thirdParty.mjs';
import shown from '../../renderer/app/about/thirdParty.json';

test('what About says of the work of others is what the lock names', () => {
  // Out of date? `node build/makeNotices.mjs` writes it afresh.
  expect(shown).toEqual(thirdParties());
});

test('every package comes with its licence, the font with its own, and one that has no sign of it would show', () => {
  expect(shown.filter(({ licence, text }) => !licence || text.length < 300)).toEqual([]);
  const font = shown.find(({ name }) => name.includes('atkinson-hyperlegible'));
  expect(font?.licence).toBe('OFL-1.1');
  expect(font?.text).toContain('SIL OPEN FONT LICENSE');
  // Asked for by another package alone.
  expect(shown.map(({ name }) => name)).toContain('konva');
  expect(shown.map(({ name }) => name)).not.toContain('vite');
});
