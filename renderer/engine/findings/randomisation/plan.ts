import type { Layout } from '../../../../shared-types/layout';
import type { Design } from '../../stats/design';
import type { RandomisationPlan } from '../../stats/randomisation';
import type { Site, Tier } from '../../trial/site/site';
import type { TrialTable } from '../table/table';
import { Refusal } from '../../../words';

/** The tier's units and labels as the statistic takes them; units without a record have no rows. */
export function planOf(
  site: Site,
  tier: Tier,
  design: Design,
  columns: readonly string[],
  { pots }: Pick<TrialTable, 'pots'>,
  layout: Layout,
  term: string,
): RandomisationPlan {
  const termAt = design.terms.findIndex(
    (t) => [...t.factors].sort().join(' × ') === term.split(' × ').sort().join(' × '),
  );
  if (termAt < 0) throw new Refusal(`${term} is not in the model that these records allow.`);
  const numberOf = new Map(site.pots.map((pot, i) => [pot.id, i]));
  const unitRows: number[][] = Array.from({ length: tier.units.count }, () => []);
  design.rowIndex.forEach((row, i) => {
    const pot = numberOf.get(pots[row]?.id ?? '');
    if (pot === undefined) return;
    unitRows[tier.units.classOf[pot] ?? 0]?.push(i);
  });
  const levelOf = (factor: Tier['factors'][number], column: string, levelId: string): number => {
    const name = factor.levels.find((level) => level.id === levelId)?.name ?? '';
    const at = design.factors.get(column)?.levels.indexOf(name) ?? -1;
    if (at < 0) throw new Refusal(`No pot with ${factor.name} ${name} has a record.`);
    return at;
  };
  const labels = tier.combinations.map((combination) =>
    tier.factors.map((factor, k) =>
      levelOf(factor, columns[k] ?? '', combination.levels[factor.id] ?? ''),
    ),
  );
  const assigned = new Map(layout.assignments.map((a) => [a.potId, a.levels]));
  const observed = new Int32Array(tier.units.count);
  site.pots.forEach((pot, i) => {
    const levels = assigned.get(pot.id);
    const at = tier.combinations.findIndex((combination) =>
      tier.factors.every((factor) => combination.levels[factor.id] === levels?.[factor.id]),
    );
    if (at < 0) throw new Refusal(`${pot.code} has no treatment in the layout.`);
    observed[tier.units.classOf[i] ?? 0] = at;
  });
  return {
    term: termAt,
    moved: columns,
    labels,
    unitRows: unitRows.map((rows) => Int32Array.from(rows)),
    groups: tier.groups.map((group) => Int32Array.from(group.units)),
    observed,
  };
}
