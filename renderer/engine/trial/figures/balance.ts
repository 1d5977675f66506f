import type { Layout } from '../../../../shared-types/layout';
import { inputAtDraw } from '../draw/atDraw';
import type { TrialInput } from '../input';
import { siteOf } from '../site/siteOf';
import type { Site } from '../site/site';
import { treatmentKey, treatmentsOf } from '../treatments';

/** How one treatment, or one level of a factor, fares in the layout. */
export interface BalanceRow {
  /** Key of the treatment, or id of the level. */
  key: string;
  /** Letter of the treatment; null for a level. */
  letter: string | null;
  name: string;
  pots: number;
  /** Blocks in which it occurs. */
  blocks: number;
  /** µmol m⁻² s⁻¹; null where the light is not known at each of its pots. */
  meanPpfdUmol: number | null;
  /** Share of its pots that stand in the outermost row or column of a tray. */
  edgeShare: number;
  /** Mean starting value of those of its plants that have one; null where none has. */
  meanStart: number | null;
}

export interface BalanceTable {
  treatments: BalanceRow[];
  factors: { factorId: string; name: string; levels: BalanceRow[] }[];
}

/** Light at the draw, edge share and starting size by treatment and by level, over the measured pots. */
export function balanceOf(input: TrialInput, layout: Pick<Layout, 'assignments'>): BalanceTable {
  return balanceOfSite(siteOf(inputAtDraw(input, layout)), layout);
}

export function balanceOfSite(site: Site, layout: Pick<Layout, 'assignments'>): BalanceTable {
  const { trial } = site;
  const levelsOf = new Map(layout.assignments.map((a) => [a.potId, a]));
  const tally = (
    key: string,
    letter: string | null,
    name: string,
    holds: (levels: Record<string, string>) => boolean,
  ): BalanceRow => {
    let pots = 0;
    let edge = 0;
    let light = 0;
    let start = 0;
    let started = 0;
    const blocks = new Set<string>();
    site.pots.forEach((pot, i) => {
      const assignment = levelsOf.get(pot.id);
      if (!assignment || !holds(assignment.levels)) return;
      pots++;
      if (pot.onEdge) edge++;
      light += site.ppfd?.[i] ?? 0;
      blocks.add(assignment.block);
      const value = site.startByPot?.get(pot.id);
      if (value !== undefined) {
        start += value;
        started++;
      }
    });
    return {
      key,
      letter,
      name,
      pots,
      blocks: blocks.size,
      meanPpfdUmol: site.ppfd && pots > 0 ? light / pots : null,
      edgeShare: pots > 0 ? edge / pots : 0,
      meanStart: started > 0 ? start / started : null,
    };
  };
  return {
    treatments: treatmentsOf(trial).map((treatment) =>
      tally(
        treatment.key,
        treatment.letter,
        treatment.name,
        (levels) => treatmentKey(trial, levels) === treatment.key,
      ),
    ),
    factors: trial.factors.map((factor) => ({
      factorId: factor.id,
      name: factor.name,
      levels: factor.levels.map((level) =>
        tally(level.id, null, level.name, (levels) => levels[factor.id] === level.id),
      ),
    })),
  };
}
