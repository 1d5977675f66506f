import { chiSquareUpper, fUpper } from '../distributions';
import { Refusal } from '../../../words';
import { num } from '../../entry';

export interface SpreadTest {
  statistic: number;
  df: number;
  /** null where the statistic is referred to chi-square. */
  dfError: number | null;
  p: number;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = num(sorted, half);
  return sorted.length % 2 === 1 ? upper : (num(sorted, half - 1) + upper) / 2;
}

function sumSquares(values: readonly number[]): number {
  const centre = mean(values);
  return values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
}

/** Values by group, groups in order of first appearance. */
function split(
  where: string,
  values: readonly number[],
  groups: readonly string[],
): Map<string, number[]> {
  if (values.length !== groups.length) {
    throw new Refusal(`${where}: ${values.length} values but ${groups.length} group names`);
  }
  const byGroup = new Map<string, number[]>();
  values.forEach((value, i) => {
    if (!Number.isFinite(value)) {
      throw new Refusal(`${where}: value ${i + 1} is ${value}; expected a finite number`);
    }
    const key = groups[i] ?? '';
    const members = byGroup.get(key);
    if (members) members.push(value);
    else byGroup.set(key, [value]);
  });
  if (byGroup.size < 2) {
    throw new Refusal(`${where}: ${byGroup.size} groups; expected two or more`);
  }
  return byGroup;
}

/** One-way analysis of the distances of values from their group's centre. */
function distancesTest(
  where: string,
  values: readonly number[],
  groups: readonly string[],
  centre: (values: readonly number[]) => number,
): SpreadTest {
  const byGroup = split(where, values, groups);
  const n = values.length;
  const df = byGroup.size - 1;
  const dfError = n - byGroup.size;
  const distances = [...byGroup.values()].map((members) => {
    const middle = centre(members);
    return members.map((value) => Math.abs(value - middle));
  });
  const grand = mean(distances.flat());
  let between = 0;
  let within = 0;
  let total = 0;
  for (const members of distances) {
    between += members.length * (mean(members) - grand) ** 2;
    within += sumSquares(members);
    for (const value of members) total += value * value;
  }
  if (dfError === 0 || within <= 1e-24 * total) {
    throw new Refusal(
      `${where}: the distances within groups do not vary; expected groups of three or more with spread`,
    );
  }
  const statistic = between / df / (within / dfError);
  return { statistic, df, dfError, p: fUpper(statistic, df, dfError) };
}

/**
 * Levene's (1960) test of equal spread: the analysis of variance of the distances from each
 * group's mean. `values` and `groups` run in parallel, one entry a pot.
 */
export function levene(values: readonly number[], groups: readonly string[]): SpreadTest {
  return distancesTest('Levene', values, groups, mean);
}

/**
 * Brown and Forsythe's (1974) test of equal spread: as Levene's, but from each group's median,
 * which long tails disturb less.
 */
export function brownForsythe(values: readonly number[], groups: readonly string[]): SpreadTest {
  return distancesTest('Brown–Forsythe', values, groups, median);
}

/**
 * Bartlett's (1937) test of equal variances, referred to chi-square. Sensitive to any departure
 * from normality. Every group needs two or more values that differ.
 */
export function bartlett(values: readonly number[], groups: readonly string[]): SpreadTest {
  const byGroup = split('Bartlett', values, groups);
  const df = byGroup.size - 1;
  const pooledDf = values.length - byGroup.size;
  let pooled = 0;
  let logs = 0;
  let inverses = 0;
  for (const [group, members] of byGroup) {
    const own = members.length - 1;
    const ss = sumSquares(members);
    if (own < 1 || !(ss > 0)) {
      throw new Refusal(
        `Bartlett: group ${group} has ${members.length} values without spread; expected two or more that differ`,
      );
    }
    pooled += ss;
    logs += own * Math.log(ss / own);
    inverses += 1 / own;
  }
  const correction = 1 + (inverses - 1 / pooledDf) / (3 * df);
  const statistic = Math.max(0, (pooledDf * Math.log(pooled / pooledDf) - logs) / correction);
  return { statistic, df, dfError: null, p: chiSquareUpper(statistic, df) };
}
