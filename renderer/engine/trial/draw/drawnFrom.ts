import type { Layout } from '../../../../shared-types/layout';
import type { Factor, Trial } from '../../../../shared-types/trial/trial';
import { inputAtDraw, startsAtDraw } from './atDraw';
import { lacksLight } from '../blocks/blocks';
import type { TrialInput } from '../input';
import { hashOf } from '../../geometry';
import { hasAllStarts, schemeUsesBlocks, schemeUsesGrid } from '../site/site';
import { siteOf } from '../site/siteOf';
import type { Site } from '../site/site';
import { overload, timesOf } from '../treatments';

/**
 * The site as the layout was drawn from it, the exchanges logged since undone in the plants' own
 * properties; null without a layout, or where it was drawn from something else. Light and starting
 * values are those that the layout kept. Starting values that it did not keep count as they are, with
 * the exchanges undone, or not at all: they are often recorded only after the draw.
 */
export function drawnSite(now: TrialInput, layout: Layout | null): Site | null {
  if (!layout) return null;
  const input = inputAtDraw(now, layout);
  if (lacksLight(input) || overload(input.trial.factors)) return null;
  const before = beforeSwaps(layout.swaps);
  const site = siteOf(
    layout.swaps.length > 0 ? { ...input, trial: undone(input.trial, before) } : input,
  );
  const { startByPot } = site;
  const kept = startsAtDraw(layout);
  const starts = kept ? [kept] : [startByPot, null];
  if (!kept && startByPot && layout.swaps.length > 0) {
    starts.push(new Map([...startByPot].map(([potId, value]) => [before(potId), value])));
  }
  const variants = starts.map((start) => ({ ...site, startByPot: start }));
  return variants.find((one) => drawnFromOf(one) === layout.drawnFrom) ?? null;
}

/** The trial with the levels of single pots where they stood before the exchanges. */
function undone(trial: Trial, before: (potId: string) => string): Trial {
  const factors = trial.factors.map((factor) => {
    if (factor.unit !== 'pot') return factor;
    const where = factor.where.map((entry) => ({ ...entry, unitId: before(entry.unitId) }));
    return { ...factor, where };
  });
  return { ...trial, factors };
}

/** Where the plant that now stands in a pot stood before the exchanges. */
function beforeSwaps(swaps: Layout['swaps']): (potId: string) => string {
  return (potId) => {
    let at = potId;
    for (const { a, b } of [...swaps].reverse()) {
      if (at === a) at = b;
      else if (at === b) at = a;
    }
    return at;
  };
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
    what === 'start' ? drawReadsStart(site) : constrained && constraint.balance.includes(what);
  const blockKey = new Map(site.blocks.flatMap((b) => b.potIds.map((id) => [id, b.key] as const)));
  const lines = [`scheme ${trial.scheme}`, ...trial.factors.map(factorLine)];
  if (constrained) {
    const balanced = constraint.balance.filter(uses).sort().join(' ');
    lines.push(`accept ${constraint.acceptanceShare} ${balanced}`);
  }
  if (constraint.likeNeighbours !== null) lines.push(`neighbours ${constraint.likeNeighbours}`);
  // Without boards a bay says no more than its shelf.
  const parted = site.unitOf.bay.count > site.unitOf.shelf.count;
  pots.forEach((pot, i) => {
    const parts = [pot.id, pot.shelfId];
    if (parted) parts.push(pot.bayId);
    if (schemeUsesBlocks(trial.scheme)) parts.push(blockKey.get(pot.id) ?? '');
    if (schemeUsesGrid(trial.scheme)) parts.push(pot.xMm.toFixed(1));
    if (uses('position')) parts.push(pot.xMm.toFixed(1), pot.yMm.toFixed(1), String(pot.onEdge));
    if (uses('light')) parts.push(String(site.ppfd?.[i] ?? ''));
    if (uses('start')) parts.push(String(site.startByPot?.get(pot.id) ?? ''));
    lines.push(parts.join(' '));
  });
  return hashOf(lines.join('\n'));
}

/** Whether the draw balances the starting values. */
export function drawReadsStart(site: Site): boolean {
  const { acceptanceShare, balance } = site.trial.constraint;
  return acceptanceShare < 1 && balance.includes('start') && hasAllStarts(site);
}

/** The hash keeps these words, whatever the plan file calls the kinds: old layouts rest on them. */
const kindLine: Record<Factor['kind'], string> = { randomised: 'assigned', fixed: 'given' };

function factorLine(factor: Factor): string {
  const levels = factor.levels
    .map((level) => {
      const times = timesOf(factor, level);
      return times === 1 ? level.id : `${level.id}*${times}`;
    })
    .join(' ');
  const where =
    factor.kind === 'fixed'
      ? factor.where
          .map((entry) => `${entry.unitId}=${entry.levelId}`)
          .sort()
          .join(' ')
      : '';
  return `factor ${factor.id} ${kindLine[factor.kind]} ${factor.unit} ${levels} ${where}`;
}
