import type { Notice } from '../../../shared-types/notice';
import { boardDirectionWords } from '../../../shared-types/rack';
import { letterOf } from '../../engine/geometry';
import type { RackLook } from '../look';
import { shortLength } from './shortLength';
import type { Point } from './box';
import { idsOf, parseRef, refTo } from '../../document/queries/refs';
import type { Scene } from './scene';
import type { PotOnPlane, Thing } from './things';
import { onShelf, shelfAt } from './scene';
import { percent, type UnitSystem } from '../../words';

const count = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;

function describeThing(thing: Thing, lengths: UnitSystem): string {
  const f = (mm: number) => shortLength(mm, lengths);
  switch (thing.kind) {
    case 'shelf': {
      const { shelf } = thing;
      return `${thing.name}: ${f(shelf.widthMm)} wide, ${f(shelf.depthMm)} deep, ${f(shelf.clearanceMm)} clear`;
    }
    case 'tray': {
      const { tray } = thing;
      return `${thing.name}: ${f(tray.widthMm)} × ${f(tray.depthMm)}, ${count(thing.potCount, 'pot')}`;
    }
    case 'board': {
      const { direction, atMm, thicknessMm, downToMm } = thing.board;
      return `${thing.name}: ${boardDirectionWords[direction]} at ${f(atMm)}, ${f(thicknessMm)} thick, down to ${f(downToMm)}`;
    }
    case 'lamp': {
      const { lamp } = thing;
      const dimmed = lamp.dimming < 1 ? `, at ${percent(lamp.dimming)}` : '';
      return `${thing.name}: ${thing.lampKind.name}, ${f(lamp.zMm)} above the shelf${dimmed}`;
    }
  }
}

function describePot(placed: PotOnPlane, lengths: UnitSystem): string {
  const { pot } = placed;
  const parts = [
    `Pot ${pot.code}: row ${letterOf(pot.row)}, column ${pot.column}`,
    ...(pot.guard ? ['guard pot'] : []),
    `${shortLength(pot.edgeDistanceMm, lengths)} from the tray's side`,
  ];
  return parts.join(', ');
}

/** One line on a thing or a pot of the scene; empty where the scene does not show it. */
export function describe(scene: Scene, ref: string, lengths: UnitSystem): string {
  const thing = scene.byRef.get(ref);
  if (thing) return describeThing(thing, lengths);
  const pot = scene.potByRef.get(ref);
  return pot ? describePot(pot, lengths) : '';
}

/** Where the pointer is: in a shelf's axes (from above) or across and above the floor (front). */
export function describePlace(scene: Scene, at: Point, lengths: UnitSystem): string {
  const f = (mm: number) => shortLength(Math.round(mm), lengths);
  if (scene.view === 'front') return `x ${f(at.across)}, ${f(at.up)} above the floor`;
  const shelf = shelfAt(scene, at);
  // Between shelves that are shown together there is no place to tell.
  if (scene.view === 'all' && !shelf) return '';
  const place = shelf ? onShelf(scene, shelf.id, at) : at;
  return `x ${f(place.across)}, y ${f(place.up)}`;
}

/** The notices of a thing's ring: of all that are about it, the worst that are still open. */
function noticesOfRing(look: RackLook, notices: readonly Notice[], ref: string): string[] {
  const severity = look.ringed.get(ref);
  return notices
    .filter((n) => n.accepted === undefined && n.severity === severity && n.about.includes(ref))
    .map((n) => n.text);
}

/**
 * The line of the strip on the first of `refs`, which lie one over the other from the nearest to
 * the eye to the farthest: what it is, what the stage says of it, `place`, and why it is ringed or,
 * where it is not, why the nearest ringed one is.
 */
export function stripLine(
  { scene, look, notices, lengths }: Told,
  refs: readonly string[],
  place = '',
): string {
  const [seen] = refs;
  const ringed = refs.find((ref) => look.ringed.has(ref));
  const own = seen === undefined ? [] : [describe(scene, seen, lengths), stageWords(look, seen)];
  const why = ringed === undefined ? [] : noticesOfRing(look, notices, ringed);
  return [...own, place, ...why].filter(Boolean).join(' · ');
}

/** A thing or pot and what it stands in, from the inside out. */
export function withEnclosing(scene: Scene, ref: string): string[] {
  const pot = scene.potByRef.get(ref)?.pot;
  if (pot) return [ref, refTo('tray', pot.trayId), refTo('shelf', pot.shelfId)];
  const thing = scene.byRef.get(ref);
  return thing && thing.kind !== 'shelf' ? [ref, refTo('shelf', thing.shelf.id)] : [ref];
}

/** All that what is said of things is taken from. */
export interface Told {
  scene: Scene;
  look: RackLook;
  notices: readonly Notice[];
  lengths: UnitSystem;
}

function stageWords(look: RackLook, ref: string): string {
  const pots = idsOf([ref], 'pot');
  const said = pots[0] === undefined ? look.words?.get(ref) : look.potPaint?.get(pots[0])?.words;
  return said ?? '';
}

/** What a screen reader hears when the selection changes. */
export function describeSelection(told: Told, selection: readonly string[]): string {
  const [only, ...more] = selection;
  if (only === undefined) return 'Nothing selected';
  if (more.length === 0)
    return (
      stripLine(told, withEnclosing(told.scene, only)) ||
      `${parseRef(only)?.kind ?? 'Thing'} selected`
    );
  const parts = (
    [
      ['shelf', 'shelf', 'shelves'],
      ['tray', 'tray', 'trays'],
      ['lamp', 'lamp', 'lamps'],
      ['board', 'board', 'boards'],
      ['pot', 'pot', 'pots'],
      ['reading', 'reading', 'readings'],
    ] as const
  ).flatMap(([kind, one, many]) => {
    const n = idsOf(selection, kind).length;
    return n > 0 ? [count(n, one, many)] : [];
  });
  return `${parts.join(', ')} selected`;
}
