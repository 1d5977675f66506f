import type { BalanceLimit, BalanceMeasure } from '../../../../shared-types/layout';
import type { Factor } from '../../../../shared-types/trial/trial';
import type { Drawn, PreparedDraw } from '../draw/preparedDraw';
import { levelGap } from '../fit/levelGaps';
import { hasAllStarts, type Site, type Tier } from '../site/site';
import { stream } from '../stream';
import { real, whole } from '../../entry';

/** With 299 redraws the third largest is passed by one fair draw in a hundred, exactly. */
const REDRAWS = 299;
const BEYOND = 3;

/** Fewer pots a level tell nothing of its edge share or of how its plants started. */
export const FEWEST_POTS = 4;

/**
 * How far apart levels may lie by chance: the gaps that 99 of 100 redraws of the same design keep to,
 * under its own constraint. One statistic covers all factors and measures, so that the chance of any
 * false alarm is 1 in 100: T, the largest gap in units of the 99th percentile of its own kind, whose
 * 99th percentile stretches all limits alike. Starting values that are not weighed yet are drawn
 * normal. The redraws belong to the design: their seeds are the same whatever the layout's own is.
 */
export function balanceLimits({ site, draw }: PreparedDraw): BalanceLimit[] {
  const measured = site.tiers.flatMap((tier, t) =>
    tier.factors.flatMap((factor) =>
      measuresOf(site, factor).map((measure) => ({ tier, t, factor, measure })),
    ),
  );
  const gaps = measured.map(() => new Float64Array(REDRAWS));
  const edge = site.pots.map((pot) => (pot.onEdge ? 1 : 0));
  const starts = hasAllStarts(site)
    ? site.pots.map((pot) => site.startByPot?.get(pot.id) ?? null)
    : null;
  for (let run = 0; run < REDRAWS; run++) {
    const drawn = draw(`redraw ${run + 1}`);
    const random = stream('starting values', `redraw ${run + 1}`);
    const started = starts ?? site.pots.map(() => random.normal());
    const valuesOf = { light: site.ppfd ?? [], edge, start: started };
    measured.forEach(({ tier, t, factor, measure }, m) => {
      const levels = levelsDrawn(site, tier, drawn.treatmentOf[t], factor);
      const list = gaps[m];
      if (list) list[run] = gapIn(factor, levels, measure, valuesOf[measure]);
    });
  }
  const scales = gaps.map((list) => percentile(list) || Math.max(...list) || 1);
  const largest = Float64Array.from({ length: REDRAWS }, (_, run) =>
    Math.max(...gaps.map((list, m) => real(list, run) / (scales[m] ?? 1))),
  );
  const stretch = percentile(largest);
  return measured.map(({ factor, measure }, m) => ({
    factorId: factor.id,
    measure,
    gap: rounded(stretch * (scales[m] ?? 1)),
  }));
}

/** What a draw of this factor can leave uneven. */
function measuresOf(site: Site, factor: Factor): BalanceMeasure[] {
  const light: BalanceMeasure[] = site.ppfd && factor.appliedThrough !== 'light' ? ['light'] : [];
  return factor.unit === 'pot' ? [...light, 'edge', 'start'] : [...light, 'start'];
}

function gapIn(
  factor: Factor,
  levels: readonly (string | null)[],
  measure: BalanceMeasure,
  values: ArrayLike<number | null>,
): number {
  const found = levelGap(factor, levels, values, measure === 'light' ? 1 : FEWEST_POTS);
  if (!found) return 0;
  if (measure !== 'start') return found.gap;
  return found.sd > 0 ? found.gap / found.sd : 0;
}

function levelsDrawn(
  site: Site,
  tier: Tier,
  treatmentOf: Drawn['treatmentOf'][number] | undefined,
  factor: Factor,
): (string | null)[] {
  return site.pots.map((_, i) => {
    const treatment = treatmentOf?.[whole(tier.units.classOf, i)] ?? -1;
    return tier.combinations[treatment]?.levels[factor.id] ?? null;
  });
}

/** The value that `BEYOND` − 1 of the redraws pass. */
function percentile(values: Float64Array): number {
  return Float64Array.from(values).sort()[values.length - BEYOND] ?? 0;
}

/** Rounded up: a gap as large as the limit itself is within it. */
const rounded = (gap: number): number => Math.ceil(gap * 1e4 + 1e-6) / 1e4;
