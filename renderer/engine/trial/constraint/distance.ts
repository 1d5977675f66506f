import { hasAllStarts } from '../site';
import type { Site, Tier } from '../site';
import { membersOf } from '../partition';
import { num, real, whole } from '../../entry';

/** What a constrained draw balances, per unit of a tier, centred within the draw groups. */
export interface Covariates {
  names: string[];
  /** `values[c][unit]` */
  values: Float64Array[];
}

/** The covariates that the trial's constraint names, as unit means. Unknown ones are left out. */
export function covariatesOf(site: Site, tier: Tier): Covariates {
  const { balance } = site.trial.constraint;
  const raw: { name: string; at: (pot: number) => number }[] = [];
  const { ppfd, pots, startByPot } = site;
  if (balance.includes('light') && ppfd) raw.push({ name: 'light', at: (i) => num(ppfd, i) });
  if (balance.includes('position')) {
    raw.push({ name: 'x', at: (i) => pots[i]?.xMm ?? 0 });
    raw.push({ name: 'y', at: (i) => pots[i]?.yMm ?? 0 });
    raw.push({ name: 'edge', at: (i) => (pots[i]?.onEdge ? 1 : 0) });
  }
  if (balance.includes('start') && startByPot && hasAllStarts(site)) {
    raw.push({ name: 'start', at: (i) => startByPot.get(pots[i]?.id ?? '') ?? 0 });
  }
  const members = membersOf(tier.units);
  const values = raw.map(({ at }) => {
    const means = Float64Array.from(
      members,
      (own) => own.reduce((sum, pot) => sum + at(pot), 0) / own.length,
    );
    for (const group of tier.groups) {
      const mean = group.units.reduce((sum, u) => sum + real(means, u), 0) / group.units.length;
      for (const unit of group.units) means[unit] = real(means, unit) - mean;
    }
    return means;
  });
  return { names: raw.map(({ name }) => name), values };
}

/**
 * Distance of treatments' covariate means from their common mean,
 * M = Σ n_g (x̄_g − x̄)ᵀ S⁻¹ (x̄_g − x̄), with S the covariance within draw groups (divisor: units
 * less groups). For two treatments it is the Mahalanobis distance of Morgan & Rubin 2012, Ann.
 * Statist. 40:1263–1282. Covariates that do not vary within groups, or repeat others, drop out.
 */
export interface Distance {
  /** Columns made orthogonal and scaled to S = I, so that M is a sum of squares. */
  columns: Float64Array[];
  treatments: number;
}

/** Makes ready the distance over the units of some groups (all covariates centred in them). */
export function distanceOver(
  covariates: Covariates,
  groups: readonly { units: readonly number[] }[],
  treatments: number,
): Distance {
  const units = groups.flatMap((group) => [...group.units]);
  const freedom = units.length - groups.length;
  const columns: Float64Array[] = [];
  if (freedom < 1) return { columns, treatments };
  const dot = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (const unit of units) sum += real(a, unit) * real(b, unit);
    return sum;
  };
  for (const value of covariates.values) {
    const column = Float64Array.from(value);
    const before = dot(column, column);
    for (const other of columns) {
      const share = dot(column, other) / freedom;
      for (const unit of units) column[unit] = real(column, unit) - share * real(other, unit);
    }
    const after = dot(column, column);
    if (before <= 0 || after < 1e-9 * before) continue;
    const scale = Math.sqrt(freedom / after);
    for (const unit of units) column[unit] = real(column, unit) * scale;
    columns.push(column);
  }
  return { columns, treatments };
}

/** M of one assignment of treatments to the listed units. */
export function imbalance(
  distance: Distance,
  units: readonly number[] | Int32Array,
  treatmentOf: Int32Array,
): number {
  const { columns, treatments } = distance;
  const counts = new Int32Array(treatments);
  for (const unit of units) {
    const treatment = whole(treatmentOf, unit);
    counts[treatment] = whole(counts, treatment) + 1;
  }
  let m = 0;
  const sums = new Float64Array(treatments);
  for (const column of columns) {
    sums.fill(0);
    for (const unit of units) {
      const treatment = whole(treatmentOf, unit);
      sums[treatment] = real(sums, treatment) + real(column, unit);
    }
    for (let g = 0; g < treatments; g++) {
      const count = whole(counts, g);
      const sum = real(sums, g);
      if (count > 0) m += (sum * sum) / count;
    }
  }
  return m;
}
