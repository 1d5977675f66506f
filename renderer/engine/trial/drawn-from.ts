import type { Layout } from '../../../shared-types/layout';
import type { Factor } from '../../../shared-types/trial';
import { lacksLight } from './blocks';
import type { TrialInput } from './blocks';
import { hashOf } from './hash';
import { schemeUsesBlocks, schemeUsesGrid, siteOf } from './site';
import type { Site } from './site';

/**
 * The site as the layout was drawn from it: with the starting values at hand, or without any (they
 * are often recorded after the draw). null where the layout was drawn from something else.
 */
export function drawnSite(input: TrialInput, layout: Layout): Site | null {
  if (lacksLight(input)) return null;
  const site = siteOf(input);
  const without = { ...site, startByPot: null };
  return [site, without].find((one) => drawnFromOf(one) === layout.drawnFrom) ?? null;
}

/**
 * Hash of all that the draw depends on, and of nothing else: renaming a level or hanging a lamp
 * elsewhere does not make a layout stale unless the draw used that light.
 */
export function drawnFromOf(site: Site): string {
  const { trial, pots } = site;
  const { constraint } = trial;
  const constrained = constraint.acceptanceShare < 1;
  const uses = (what: 'light' | 'position' | 'start'): boolean =>
    constrained && constraint.balance.includes(what);
  const blockKey = new Map(site.blocks.flatMap((b) => b.potIds.map((id) => [id, b.key] as const)));
  const lines = [`scheme ${trial.scheme}`, ...trial.factors.map(factorLine)];
  if (constrained) {
    lines.push(`accept ${constraint.acceptanceShare} ${[...constraint.balance].sort().join(' ')}`);
  }
  if (constraint.likeNeighbours !== null) lines.push(`neighbours ${constraint.likeNeighbours}`);
  pots.forEach((pot, i) => {
    const parts = [pot.id, pot.shelfId];
    if (schemeUsesBlocks(trial.scheme)) parts.push(blockKey.get(pot.id) ?? '');
    if (schemeUsesGrid(trial.scheme)) parts.push(pot.xMm.toFixed(1));
    if (uses('position')) parts.push(pot.xMm.toFixed(1), pot.yMm.toFixed(1), String(pot.onEdge));
    if (uses('light')) parts.push(String(site.ppfd?.[i] ?? ''));
    if (uses('start')) parts.push(String(site.startByPot?.get(pot.id) ?? ''));
    lines.push(parts.join(' '));
  });
  return hashOf(lines.join('\n'));
}

function factorLine(factor: Factor): string {
  const levels = factor.levels.map((level) => level.id).join(' ');
  const where =
    factor.kind === 'given'
      ? factor.where
          .map((entry) => `${entry.unitId}=${entry.levelId}`)
          .sort()
          .join(' ')
      : '';
  return `factor ${factor.id} ${factor.kind} ${factor.unit} ${levels} ${where}`;
}
