import { hasAllStarts } from '../site/site';
import type { Site, Tier } from '../site/site';
import { membersOf } from '../site/partition';
import { entry, num, real, whole } from '../../entry';

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
  covariates: Covariates;
  /**
   * Sums of the covariates, one row each, that are orthogonal and scaled to S = I over the units, so
   * that M is a sum of squares: `rows[r][covariate]`.
   */
  rows: Float64Array[];
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
  const made: { column: Float64Array; row: Float64Array }[] = [];
  if (freedom < 1) return { covariates, rows: [], treatments };
  const dot = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (const unit of units) sum += real(a, unit) * real(b, unit);
    return sum;
  };
  covariates.values.forEach((value, c) => {
    const column = Float64Array.from(value);
    const row = new Float64Array(covariates.values.length);
    row[c] = 1;
    const before = dot(column, column);
    for (const other of made) {
      const share = dot(column, other.column) / freedom;
      for (const unit of units)
        column[unit] = real(column, unit) - share * real(other.column, unit);
      for (let j = 0; j <= c; j++) row[j] = real(row, j) - share * real(other.row, j);
    }
    const after = dot(column, column);
    if (before <= 0 || after < 1e-9 * before) return;
    const scale = Math.sqrt(freedom / after);
    made.push({ column: column.map((x) => x * scale), row: row.map((x) => x * scale) });
  });
  return { covariates, rows: made.map(({ row }) => row), treatments };
}

/** What M needs to know of an assignment; that of more units is added to it. */
export class TreatmentSums {
  readonly counts: Int32Array;
  /** `sums[covariate][treatment]` */
  readonly sums: readonly Float64Array[];

  constructor(
    private readonly covariates: Covariates,
    treatments: number,
  ) {
    this.counts = new Int32Array(treatments);
    this.sums = covariates.values.map(() => new Float64Array(treatments));
  }

  setTo(other: TreatmentSums): void {
    this.counts.set(other.counts);
    other.sums.forEach((sums, c) => this.sums[c]?.set(sums));
  }

  add(units: readonly number[], treatmentOf: Int32Array): void {
    const { counts } = this;
    const given = new Int32Array(units.length);
    for (let i = 0; i < units.length; i++) {
      const treatment = whole(treatmentOf, num(units, i));
      given[i] = treatment;
      counts[treatment] = whole(counts, treatment) + 1;
    }
    this.covariates.values.forEach((values, c) => addUp(entry(this.sums, c), given, values, units));
  }
}

/** Adds the value of each unit to the sum of its treatment. */
function addUp(
  sums: Float64Array,
  given: Int32Array,
  values: Float64Array,
  units: readonly number[],
): void {
  for (let i = 0; i < given.length; i++) {
    const treatment = whole(given, i);
    sums[treatment] = real(sums, treatment) + real(values, num(units, i));
  }
}

/** M of the assignment of treatments that the sums are of. */
export function imbalance({ rows, treatments }: Distance, { counts, sums }: TreatmentSums): number {
  let m = 0;
  for (const row of rows) {
    for (let g = 0; g < treatments; g++) {
      const count = whole(counts, g);
      if (count === 0) continue;
      let sum = 0;
      for (let c = 0; c < row.length; c++) sum += real(row, c) * real(entry(sums, c), g);
      m += (sum * sum) / count;
    }
  }
  return m;
}
