import type { Rack, Shelf, Tray } from '../../../../shared-types/rack';
import { baysOf, isParted, trayCode } from '../../geometry';
import { lightWithin } from '../lightWithin';
import { measuredPots } from '../measuredPots';
import type { Pot } from '../../geometry';
import { Refusal } from '../../../words';
import { num } from '../../entry';
import { bandsAsDrawn, lightBands } from './lightBands';
import { type PpfdByPot, type TrialInput, type Block, lightAt } from '../input';

/**
 * The trial's blocks over the measured pots. Blocks by light need a PPFD for every measured pot
 * and throw without it.
 */
export function blocksOf(input: TrialInput): Block[] {
  const { rack, trial } = input;
  const pots = measuredPots(rack);
  if (trial.blocks.by === 'light') {
    const { atDraw } = input;
    if (atDraw && !atDraw.ppfdByPot) return bandsAsDrawn(pots, atDraw.blockByPot);
    return lightBands(pots, lightForDraw(input, pots), trial.blocks.bands);
  }
  const place = placesOf(rack);
  const bayNames = new Map(
    rack.shelves.flatMap((shelf) => baysOf(shelf).map(({ id, name }) => [id, `Shelf ${name}`])),
  );
  const bayName = (pot: Pot) => bayNames.get(pot.bayId) ?? '';
  const blocks = new Map<string, Block>();
  const put = (key: string, name: string, pot: Pot): void => {
    const block = blocks.get(key);
    if (block) block.potIds.push(pot.id);
    else blocks.set(key, { key, name, potIds: [pot.id] });
  };
  const wanted = trial.blocks;
  switch (wanted.by) {
    case 'none':
      for (const pot of pots) put('all', 'All pots', pot);
      break;
    case 'shelf':
      for (const pot of pots) put(pot.shelfId, `Shelf ${place(pot).shelf.number}`, pot);
      break;
    case 'bay':
      for (const pot of pots) put(pot.bayId, bayName(pot), pot);
      break;
    case 'tray':
      for (const pot of pots) put(pot.trayId, trayName(place(pot)), pot);
      break;
    case 'tray-halves':
    case 'tray-quarters':
      for (const tray of grouped(pots, (pot) => pot.trayId)) {
        const partOf = partsOfTray(tray, wanted.by === 'tray-quarters');
        for (const pot of tray) {
          const part = partOf(pot);
          put(`${pot.trayId}/${part}`, `${trayName(place(pot))} ${part}`, pot);
        }
      }
      break;
    case 'rows':
    case 'columns':
      for (const bay of grouped(pots, (pot) => pot.bayId)) {
        const bandOf = bandsOfShelf(bay, wanted.by, wanted.perBlock, place);
        for (const pot of bay) {
          const band = bandOf(pot);
          const within = isParted(place(pot).shelf) ? pot.bayId : pot.shelfId;
          put(`${within}/${band}`, `${bayName(pot)} ${band}`, pot);
        }
      }
      break;
  }
  return [...blocks.values()];
}

/** Block name of every measured pot. */
export function blockNames(blocks: readonly Block[]): Map<string, string> {
  return new Map(blocks.flatMap((block) => block.potIds.map((id) => [id, block.name] as const)));
}

interface Place {
  shelf: Shelf;
  tray: Tray;
}

function placesOf(rack: Rack): (pot: Pot) => Place {
  const places = new Map(
    rack.shelves.flatMap((shelf) => shelf.trays.map((tray) => [tray.id, { shelf, tray }] as const)),
  );
  return (pot) => {
    const found = places.get(pot.trayId);
    if (!found) throw new Refusal(`pot ${pot.code}: its tray ${pot.trayId} is not on the rack`);
    return found;
  };
}

const trayName = ({ shelf, tray }: Place): string => `Tray ${trayCode(shelf.number, tray.letter)}`;

function grouped(pots: readonly Pot[], keyOf: (pot: Pot) => string): Pot[][] {
  const groups = new Map<string, Pot[]>();
  for (const pot of pots) {
    const key = keyOf(pot);
    const group = groups.get(key);
    if (group) group.push(pot);
    else groups.set(key, [pot]);
  }
  return [...groups.values()];
}

const distinct = (values: readonly number[]): number[] =>
  [...new Set(values)].sort((a, b) => a - b);

/**
 * Halves lie across the longer way of the measured grid, or across the other way where only that
 * splits evenly. The middle line of an odd number goes to the front or left part.
 */
function partsOfTray(tray: readonly Pot[], quarters: boolean): (pot: Pot) => string {
  const rows = distinct(tray.map((pot) => pot.row));
  const columns = distinct(tray.map((pot) => pot.column));
  const lastFrontRow = num(rows, Math.ceil(rows.length / 2) - 1);
  const lastLeftColumn = num(columns, Math.ceil(columns.length / 2) - 1);
  const depth = (pot: Pot): string => (pot.row <= lastFrontRow ? 'front' : 'back');
  const side = (pot: Pot): string => (pot.column <= lastLeftColumn ? 'left' : 'right');
  if (quarters) return (pot) => `${depth(pot)} ${side(pot)}`;
  const wide = columns.length >= rows.length;
  const along = wide ? columns.length : rows.length;
  const other = wide ? rows.length : columns.length;
  const turn = along % 2 === 1 && other % 2 === 0;
  return wide !== turn ? side : depth;
}

/** Lines of pots over a whole shelf, whichever tray they stand in; counted with the guard pots. */
function bandsOfShelf(
  shelfPots: readonly Pot[],
  by: 'rows' | 'columns',
  perBlock: number,
  place: (pot: Pot) => Place,
): (pot: Pot) => string {
  const first = shelfPots[0];
  if (!first) return () => by;
  const line = (tray: Tray, number: number): number => {
    const grid = tray.grid;
    if (!grid) return 0;
    return by === 'rows'
      ? tray.yMm + grid.firstYMm + (number - 1) * grid.pitchYMm
      : tray.xMm + grid.firstXMm + (number - 1) * grid.pitchXMm;
  };
  const numberOf = (pot: Pot): number => (by === 'rows' ? pot.row : pot.column);
  const trays = place(first).shelf.trays;
  const pitches = trays.flatMap((t) => {
    if (!t.grid) return [];
    return [by === 'rows' ? t.grid.pitchYMm : t.grid.pitchXMm];
  });
  const tolerance = Math.min(...pitches) / 2;
  const positions = distinct(
    trays.flatMap((t) =>
      Array.from({ length: (by === 'rows' ? t.grid?.rows : t.grid?.columns) ?? 0 }, (_, i) =>
        line(t, i + 1),
      ),
    ),
  );
  // Trays seldom stand to the millimetre: lines closer than half a pitch are one line.
  const lineNumber = new Map<number, number>();
  let number = 0;
  let start = -Infinity;
  for (const position of positions) {
    if (position - start >= tolerance - 1e-9) {
      number++;
      start = position;
    }
    lineNumber.set(position, number);
  }
  const lineOf = (pot: Pot): number => lineNumber.get(line(place(pot).tray, numberOf(pot))) ?? 0;
  const measured = distinct(shelfPots.map(lineOf));
  const bandName = new Map<number, string>();
  for (let at = 0; at < measured.length; at += perBlock) {
    const lines = measured.slice(at, at + perBlock);
    const from = num(lines, 0);
    const to = lines.at(-1) ?? from;
    const name = from === to ? `${by.slice(0, -1)} ${from}` : `${by} ${from}–${to}`;
    for (const l of lines) bandName.set(l, name);
  }
  return (pot) => bandName.get(lineOf(pot)) ?? by;
}

/** The light that draw, blocks and balance go by: kept by the layout, or as it is now. */
export function lightForDraw(input: TrialInput, pots: readonly Pot[]): PpfdByPot {
  return input.atDraw?.ppfdByPot ?? lightWithin(input.trial.factors, pots, input.ppfdByPot);
}

/** Whether the blocks want light that is not known for every measured pot. */
export function lacksLight(input: TrialInput): boolean {
  return (
    input.trial.blocks.by === 'light' &&
    !input.atDraw &&
    measuredPots(input.rack).some((pot) => lightAt(input.ppfdByPot, pot) === null)
  );
}
