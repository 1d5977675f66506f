import { expect, test } from 'vitest';
import type { PotMark } from '../../renderer/canvas/look';
import { paintPot, type PotFace } from '../../renderer/canvas/paint/potSprite';
import { MARK_LOOKS } from '../../renderer/canvas/potMarks';

/** The calls that painting a marked pot makes, less those that painting it without a mark makes. */
function strokesOf(mark: PotMark | undefined): string[] {
  const calls: string[] = [];
  const ctx = new Proxy(
    {},
    {
      get: (_, name) => (given?: unknown) => {
        const dashed = name === 'setLineDash' && Array.isArray(given) && given.length > 0;
        calls.push(dashed ? 'dash' : String(name));
        return { width: 0 };
      },
      set: () => true,
    },
  ) as CanvasRenderingContext2D;
  const paint = { fill: '#fff', ink: '#000', ...(mark ? { mark } : {}) };
  const face: PotFace = { paint, shape: 'circle', line: '#000', guard: false, font: 'sans-serif' };
  paintPot(ctx, face, 30, 30);
  return calls;
}

const count = (calls: readonly string[], name: string) => calls.filter((c) => c === name).length;

test('a legend says of each mark what is painted for it', () => {
  const bare = strokesOf(undefined);
  const more = (mark: PotMark, name: string) => count(strokesOf(mark), name) - count(bare, name);
  // A cross is two lines, drawn light and dark.
  expect(MARK_LOOKS.dead).toBe('crossed out');
  expect([more('dead', 'moveTo'), more('dead', 'lineTo')]).toEqual([4, 4]);
  // An empty dashed ring: dashes and no fill.
  expect(MARK_LOOKS.missing).toBe('empty dashed ring');
  expect([more('missing', 'dash'), count(strokesOf('missing'), 'fill')]).toEqual([1, 0]);
  expect(more('missing', 'lineTo')).toBe(0);
  // A triangle: three corners, closed and filled.
  expect(MARK_LOOKS.flagged).toBe('dark triangle');
  expect(['moveTo', 'lineTo', 'closePath', 'fill'].map((name) => more('flagged', name))).toEqual([
    1, 2, 1, 1,
  ]);
});
