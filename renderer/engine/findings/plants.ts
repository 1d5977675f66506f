import { list } from '../../words';
import type { Findings } from './findings';
import { levelOrder } from './model/roles';

/** What became of the pots of one level. */
export interface PlantsRow {
  factor: string;
  level: string;
  pots: number;
  analysed: number;
  dead: number;
  missing: number;
  /** Left out for any other reason. */
  others: number;
}

type Counted = Pick<Findings, 'pots' | 'leftOut' | 'table' | 'roles'>;

/** Pots of each level of each factor: analysed, dead, missing, left out for another reason. */
export function plantsByLevel({ pots, leftOut, table, roles }: Counted): PlantsRow[] {
  const whyOf = new Map(leftOut.map(({ pot, why }) => [pot.id, why]));
  return roles.flatMap((role) => {
    const levels = table.columns[role.column] ?? [];
    const rows = new Map<string, PlantsRow>();
    pots.forEach((pot, i) => {
      const level = String(levels[i]);
      const row = rows.get(level) ?? {
        factor: role.factor.name,
        level,
        pots: 0,
        analysed: 0,
        dead: 0,
        missing: 0,
        others: 0,
      };
      rows.set(level, row);
      const why = whyOf.get(pot.id);
      row.pots++;
      if (why === undefined) row.analysed++;
      else if (why === 'dead' || why === 'missing') row[why]++;
      else row.others++;
    });
    const known = levelOrder(role);
    const rank = ({ level }: PlantsRow) =>
      known.includes(level) ? known.indexOf(level) : Infinity;
    return [...rows.values()].sort((a, b) => (rank(a) === rank(b) ? 0 : rank(a) - rank(b)));
  });
}

/** How pots without a value were treated, and how many died or went missing in each level. */
export function plantsWords(findings: Counted): string[] {
  if (findings.leftOut.length === 0) return [];
  const rows = plantsByLevel(findings);
  const told = (['dead', 'missing'] as const).flatMap((why) =>
    findings.roles.flatMap(({ factor }) => {
      const own = rows.filter((row) => row.factor === factor.name);
      if (own.every((row) => row[why] === 0)) return [];
      const name = why === 'dead' ? 'Deaths' : 'Missing plants';
      return [
        `${name} by ${factor.name}: ${list(own.map((r) => `${r.level} ${r[why]} of ${r.pots}`))}.`,
      ];
    }),
  );
  return ['Values of pots left out were not filled in.', ...told];
}
