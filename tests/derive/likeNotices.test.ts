import { describe, expect, it } from 'vitest';
import { likeOnce, noticesOf } from '../../renderer/derive';
import type { Notice } from '../../shared-types/notice';
import { manyPots } from '../builders/manyPots';

const plan = manyPots({ shelves: 3, traysPerShelf: 6, rows: 2, columns: 3 });
const trays = plan.rack.shelves.flatMap((shelf) => shelf.trays);
const uneven = (id: string, text: string): Notice => ({
  kind: 'light-uneven',
  severity: 'warn',
  stage: 'light',
  about: [`tray:${id}`],
  text,
  remedy: 'Space the lamps wider.',
});

describe('like notices', () => {
  it('are one, with the figures of the first and a list of the others', () => {
    const [one, two, three] = trays.map(({ id }) => uneven(id, `Tray of ${id} is uneven.`));
    if (!one || !two || !three) throw new Error('three trays are built');
    const other: Notice = { ...one, kind: 'light-too-low', text: 'Too dark.' };
    expect(likeOnce(plan, [one, other, two, three])).toEqual([
      {
        ...one,
        about: [one, two, three].flatMap(({ about }) => about),
        text: `${one.text} Likewise 2 more: tray 1B and tray 1C.`,
      },
      other,
    ]);
  });

  it('stay apart by weight, acceptance, run, and where they are about more than one thing', () => {
    const [one, two] = trays.map(({ id }) => uneven(id, `Tray of ${id} is uneven.`));
    if (!one || !two) throw new Error('two trays are built');
    for (const narrow of [
      { ...two, severity: 'note' as const },
      { ...two, accepted: 'It is a demonstration.' },
      { ...two, text: `Run 2: ${two.text}` },
      { ...two, about: [...two.about, 'shelf:s1'] },
    ]) {
      expect(likeOnce(plan, [one, narrow])).toEqual([one, narrow]);
    }
  });

  it('name a dozen of many, and lose none', () => {
    const all = noticesOf(plan);
    const told = likeOnce(plan, all);
    const of = (notices: readonly Notice[]) =>
      [
        ...new Set(notices.flatMap(({ kind, about }) => about.map((ref) => `${kind} ${ref}`))),
      ].sort();
    expect(of(told)).toEqual(of(all));
    expect(told.length).toBeLessThan(all.length);
    expect(
      likeOnce(
        plan,
        trays.map(({ id }) => uneven(id, 'Uneven.')),
      )[0]?.text,
    ).toMatch(/ Likewise 17 more: tray 1B, .* and 5 others\.$/);
  });
});
