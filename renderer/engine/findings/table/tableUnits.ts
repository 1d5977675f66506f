import { baysOf, type Pot } from '../../geometry';
import { zoneByTray } from '../../trial/site/trialPot';
import type { Partition } from '../../trial/site/partition';
import { schemeUsesGrid } from '../../trial/site/site';
import { siteOf } from '../../trial/site/siteOf';
import { gridLinesOf } from '../../trial/strata/gridSources';
import type { FindingsInput } from '../question';
import { COLUMN } from './columns';

/** What the units that a pot stands on are called. A tray that no zone floods is one by itself. */
export function unitNamesOf({
  rack,
  zones,
}: FindingsInput): (pot: Pot) => Record<'shelf' | 'bay' | 'zone' | 'tray', string> {
  const zoneOf = zoneByTray(zones);
  const bays = new Map<string, string>();
  const trays = new Map<string, string>();
  const shelves = new Map<string, string>();
  for (const shelf of rack.shelves) {
    shelves.set(shelf.id, `Shelf ${shelf.number}`);
    for (const bay of baysOf(shelf)) bays.set(bay.id, bay.name);
    for (const tray of shelf.trays) trays.set(tray.id, `${shelf.number}${tray.letter}`);
  }
  return (pot) => {
    const tray = trays.get(pot.trayId) ?? pot.trayId;
    return {
      shelf: shelves.get(pot.shelfId) ?? pot.shelfId,
      bay: bays.get(pot.bayId) ?? pot.bayId,
      zone: zoneOf.get(pot.trayId)?.name ?? tray,
      tray,
    };
  };
}

export const STRIPS = ['row-strip', 'column-strip'] as const;

/** Names of the strips that each pot is part of; null where nothing is laid on strips. */
export function stripsOf(
  input: FindingsInput,
): Map<string, Record<(typeof STRIPS)[number], string>> | null {
  const { rack, trial, ppfdByPot, zones } = input;
  if (!trial.factors.some(({ unit }) => unit === 'row-strip' || unit === 'column-strip')) {
    return null;
  }
  const { pots, unitOf, unitNames } = siteOf({ rack, trial, ppfdByPot, zones });
  const name = (kind: (typeof STRIPS)[number], i: number) =>
    unitNames[kind][unitOf[kind].classOf[i] ?? 0] ?? '';
  return new Map(
    pots.map((pot, i) => [
      pot.id,
      { 'row-strip': name('row-strip', i), 'column-strip': name('column-strip', i) },
    ]),
  );
}

/** Names of the row and the column of each pot, where the scheme lays treatments along them. */
export function lineNamesOf(input: FindingsInput): {
  unit: 'tray' | 'pot';
  columns: readonly [string, string];
  at: Map<string, [string, string]>;
} | null {
  const { rack, trial, ppfdByPot, zones } = input;
  if (!schemeUsesGrid(trial.scheme)) return null;
  const site = siteOf({ rack, trial, ppfdByPot, zones });
  const grid = gridLinesOf(site);
  if (!grid) return null;
  const { unit, rows, columns } = grid;
  const number = (line: Partition, i: number) => String((line.classOf[i] ?? 0) + 1);
  return {
    unit,
    columns:
      unit === 'tray'
        ? [COLUMN['grid-row'], COLUMN['shelf-place']]
        : [COLUMN['grid-row'], COLUMN['grid-column']],
    at: new Map(site.pots.map((pot, i) => [pot.id, [number(rows, i), number(columns, i)]])),
  };
}
