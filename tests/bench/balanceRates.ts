/** How often a fair draw is called out of balance: layouts drawn by seed after seed, none tampered with. */
import {
  drawLayoutToKeep,
  layoutNotices,
  measuredPots,
  startNotices,
  trialNotices,
  drawnSite,
  type TrialInput,
} from '../../renderer/engine/trial';
import { stream } from '../../renderer/engine/trial/stream';
import type { Trial } from '../../shared-types/trial/trial';
import { domedLight, drawn, factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';

export interface BalanceCase {
  name: string;
  trays: number;
  rows: number;
  columns: number;
  trial: Trial;
}

const onPots = trialOf([factorOf(1, 'pot', 4)]);
const blocked = trialOf([factorOf(1, 'pot', 3), factorOf(2, 'pot', 2)], {
  blocks: { by: 'tray' },
  scheme: 'complete-blocks',
});
const split = trialOf([factorOf(1, 'tray', 2), factorOf(2, 'pot', 4)], {
  blocks: { by: 'none' },
  scheme: 'split-plot',
});

export const balanceCases: readonly BalanceCase[] = [
  { name: 'one tray 3 × 8', trays: 1, rows: 3, columns: 8, trial: onPots },
  { name: 'one tray 6 × 4', trays: 1, rows: 6, columns: 4, trial: onPots },
  { name: 'three trays 12 × 6', trays: 3, rows: 12, columns: 6, trial: blocked },
  { name: 'six trays 6 × 24', trays: 6, rows: 6, columns: 24, trial: split },
  { name: 'six trays 24 × 6', trays: 6, rows: 24, columns: 6, trial: split },
];

/** Kinds of the warnings that the draw by this seed raises, beyond those that the plan has undrawn. */
export function warningsOf({ trays, rows, columns, trial }: BalanceCase, seed: string): string[] {
  const rack = rackOf({ shelves: trays, traysPerShelf: 1, rows, columns });
  const random = stream(seed, 'light and plants');
  // Every shelf falls to its ends by up to two fifths and is as bright as its own lamps.
  const shelves = new Map(rack.shelves.map(({ id }) => [id, 1 + 0.15 * random.normal()]));
  const domed = domedLight(rack, 0.4 * random.fraction());
  const pots = measuredPots(rack);
  const ppfdByPot = new Map(
    pots.map(({ id, shelfId }) => [id, (domed.get(id) ?? 0) * (shelves.get(shelfId) ?? 1)]),
  );
  const startByPot = new Map(pots.map(({ id }) => [id, 12 * Math.exp(0.2 * random.normal())]));
  const input: TrialInput = inputOf(rack, trial, ppfdByPot);
  const layout = drawLayoutToKeep({ ...input, ...drawn, seed });
  const loud = (notices: { kind: string; severity: string }[]) =>
    notices.filter(({ severity }) => severity !== 'note').map(({ kind }) => kind);
  const before = new Set(loud(trialNotices({ ...input, layout: null })));
  const site = drawnSite(input, layout);
  return loud([
    ...trialNotices({ ...input, layout }),
    ...layoutNotices({ ...input, layout }),
    ...startNotices({ layout, startByPot }, site),
  ]).filter((kind) => !before.has(kind));
}

/** Draws among `seeds` that raise any warning. */
export function balanceRate(one: BalanceCase, seeds: readonly string[]) {
  const found = seeds.map((seed) => warningsOf(one, seed));
  return {
    draws: seeds.length,
    warned: found.filter((kinds) => kinds.length > 0).length,
    kinds: [...new Set(found.flat())].sort().join(', '),
  };
}
