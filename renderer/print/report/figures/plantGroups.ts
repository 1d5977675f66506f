import {
  COLUMN,
  controlOf,
  levelOrder,
  meanShown,
  type FactorRole,
  type Findings,
} from '../../../engine/findings';
import { figures } from '../../../words';
import { SYMBOLS } from './draw';

/** One plant, where it stands among those of its level. */
export interface PlantDot {
  potId: string;
  code: string;
  title: string;
  panel: string;
  level: string;
  /** Number of its level, moved sideways so that few dots cover each other. */
  at: number;
  value: number;
}

/** A planted pot without a value that can be used. */
export type LostDot = Omit<PlantDot, 'value'> & { why: 'dead' | 'missing' | 'left out' };

/** The plants of one level, or of one combination of two. */
export interface PlantGroup {
  panel: string;
  level: string;
  /** Number of its level. */
  at: number;
  dots: PlantDot[];
  lost: LostDot[];
  /** Adjusted mean with its interval; null where none was estimated. */
  mean: { mean: number; lower: number; upper: number } | null;
}

/** Mean of one tray, shelf… that got its level as a whole. */
export interface UnitMark {
  panel: string;
  at: number;
  mean: number;
  title: string;
}

export interface PlantGroups {
  panelRole: FactorRole | null;
  levelRole: FactorRole;
  panels: string[];
  levels: string[];
  groups: PlantGroup[];
  units: UnitMark[];
}

/** Steps of the golden ratio: they fill a band evenly, and are the same at every drawing. */
const GOLDEN = 0.618033988749895;
/** Width of the band of dots, where levels are 1 apart. */
const BAND = 0.56;

/** By what the plants can be told apart: two tested factors together, then each by itself. */
export function plantChoices({ design, primary, alpha }: Findings): string[][] {
  const { tested, notReplicated } = design;
  // More panels, or more levels in them, leave no room for dots.
  const fitting = tested.filter((role) => role.unitsPerLevel.size <= SYMBOLS.length);
  const pairs = fitting.flatMap((a, i) => fitting.slice(i + 1).map((b) => [a.column, b.column]));
  const pOf = (term: string) => primary.result.terms.find((row) => row.term === term)?.p ?? 1;
  // First the pair that acts on each other the most clearly, else the two that matter most.
  const rank = (pair: readonly string[]) => {
    const together = pOf(pair.join(' × '));
    return together < alpha ? together - 1 : pair.reduce((sum, column) => sum + pOf(column), 0);
  };
  pairs.sort((a, b) => rank(a) - rank(b));
  return [...pairs, ...[...tested, ...notReplicated].map(({ column }) => [column])];
}

/** The plants of the levels of one factor, or of two crossed; null where neither is in the trial. */
export function plantGroups(findings: Findings, of: readonly string[]): PlantGroups | null {
  const roles = of.flatMap((column) => findings.roles.find((r) => r.column === column) ?? []);
  const [first, second] = roles;
  if (!first) return null;
  const [panelRole, levelRole] = second ? [first, second] : [null, first];
  const panels = panelRole ? levelOrder(panelRole) : [''];
  const levels = levelOrder(levelRole);
  const within = new Map(unitPlaces(findings, panelRole, levelRole));
  const groups = panels.flatMap((panel) =>
    levels.map((level, at): PlantGroup => ({
      panel,
      level,
      at,
      dots: [],
      lost: [],
      mean: meanOf(findings, panelRole, levelRole, panel, level),
    })),
  );
  const { table, pots, response } = findings;
  const whyOf = new Map(findings.leftOut.map(({ pot, why }) => [pot.id, why]));
  pots.forEach((pot, row) => {
    const cell = (role: FactorRole) => String(table.columns[role.column]?.[row] ?? '');
    const [panel, level] = [panelRole ? cell(panelRole) : '', cell(levelRole)];
    const group = groups.find((one) => one.panel === panel && one.level === level);
    if (!group) return;
    const value = table.columns[COLUMN.response]?.[row];
    const place = within.get(row) ?? { middle: 0, width: BAND };
    const sideways = ((((row + 1) * GOLDEN) % 1) - 0.5) * place.width + place.middle;
    const given = [panel, level].filter((part) => part !== '').join(', ');
    const dot = { potId: pot.id, code: pot.code, panel, level, at: group.at + sideways };
    if (typeof value === 'number' && !whyOf.has(pot.id)) {
      const figure = `${figures(value)} ${response.unit}`.trimEnd();
      group.dots.push({ ...dot, value, title: `${pot.code} · ${given} · ${figure}` });
      return;
    }
    const found = whyOf.get(pot.id);
    const why = found === 'dead' || found === 'missing' ? found : 'left out';
    group.lost.push({ ...dot, why, title: `${pot.code} · ${given} · ${why}` });
  });
  const units = unitMarks(findings, groups, within);
  return { panelRole, levelRole, panels, levels, groups, units };
}

interface UnitPlace {
  unit: string;
  middle: number;
  width: number;
}

/** Rows side by side by the unit that got the level as a whole, where it is no pot. */
function unitPlaces(
  { table }: Findings,
  panelRole: FactorRole | null,
  levelRole: FactorRole,
): [number, UnitPlace][] {
  if (panelRole || levelRole.unit === 'pot') return [];
  const names = table.columns[COLUMN[levelRole.unit]] ?? [];
  const levels = table.columns[levelRole.column] ?? [];
  const unitsOf = new Map<string, string[]>();
  names.forEach((name, row) => {
    const own = unitsOf.get(String(levels[row])) ?? [];
    if (!own.includes(String(name))) own.push(String(name));
    unitsOf.set(String(levels[row]), own);
  });
  return names.map((name, row) => {
    const own = unitsOf.get(String(levels[row])) ?? [];
    const step = 0.8 / own.length;
    const middle = (own.indexOf(String(name)) + 0.5) * step - 0.4;
    return [row, { unit: String(name), middle, width: step * 0.7 }];
  });
}

function unitMarks(
  { pots, response }: Findings,
  groups: readonly PlantGroup[],
  within: ReadonlyMap<number, UnitPlace>,
): UnitMark[] {
  const rowOf = new Map(pots.map(({ id }, row) => [id, row]));
  return groups.flatMap(({ panel, at, dots }) => {
    const byUnit = new Map<string, { place: UnitPlace; values: number[] }>();
    for (const { potId, value } of dots) {
      const place = within.get(rowOf.get(potId) ?? -1);
      if (!place) continue;
      const own = byUnit.get(place.unit) ?? { place, values: [] };
      own.values.push(value);
      byUnit.set(place.unit, own);
    }
    return [...byUnit].map(([unit, { place, values }]): UnitMark => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      const figure = `${figures(mean)} ${response.unit}`.trimEnd();
      return { panel, at: at + place.middle, mean, title: `${unit} · mean ${figure}` };
    });
  });
}

function meanOf(
  findings: Findings,
  panelRole: FactorRole | null,
  levelRole: FactorRole,
  panel: string,
  level: string,
): PlantGroup['mean'] {
  const columns = [panelRole, levelRole].flatMap((role) => (role ? [role.column] : []));
  const row = findings.primary.result.means
    .find(({ of }) => of.length === columns.length && columns.every((c) => of.includes(c)))
    ?.rows.find(
      (one) =>
        String(one[levelRole.column]) === level &&
        (panelRole === null || String(one[panelRole.column]) === panel),
    );
  if (!row) return null;
  const { mean, lower, upper } = meanShown(row);
  return Number.isFinite(lower) && Number.isFinite(upper) ? { mean, lower, upper } : null;
}

/**
 * Letters of the levels of one factor, over all or at one level of another: the same letter, no
 * clear difference (Tukey). Empty where levels are compared with a control alone, or not at all.
 */
export function lettersOf(
  { primary }: Pick<Findings, 'primary'>,
  role: FactorRole,
  at: { role: FactorRole; level: string } | null = null,
): ReadonlyMap<string, string> {
  const by = at ? [at.role.column] : [];
  const found =
    controlOf(role) === null
      ? primary.result.comparisons.find(
          (one) =>
            one.method === 'tukey' && one.of.join() === role.column && one.by.join() === by.join(),
        )
      : undefined;
  return new Map(
    levelOrder(role).flatMap((level) => {
      const letter = found?.letters[at ? `${level} · ${at.level}` : level];
      return letter === undefined ? [] : [[level, letter] as const];
    }),
  );
}
