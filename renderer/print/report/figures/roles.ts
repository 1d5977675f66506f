import { levelOrder, type FactorRole, type Findings } from '../../../engine/findings';
import { SYMBOLS } from './draw';
import { plantChoices } from './plantGroups';

/** More levels than there are marks cannot be told apart. */
const MOST = SYMBOLS.length;

/** What a picture of single plants tells apart: panels by the first of two factors, marks by the last. */
export interface PictureRoles {
  panel: FactorRole | null;
  level: FactorRole;
  panels: string[];
  levels: string[];
}

/**
 * The factors by which a picture of the findings tells plants apart, as the picture of every plant
 * does at first; null where they have too many levels, or there are none.
 */
export function picturedRoles(findings: Findings): PictureRoles | null {
  const of = plantChoices(findings)[0] ?? [];
  const roles = of.flatMap((column) => findings.roles.find((r) => r.column === column) ?? []);
  const [first, second] = roles;
  if (!first || roles.some((role) => role.unitsPerLevel.size > MOST)) return null;
  const [panel, level] = second ? [first, second] : [null, first];
  return { panel, level, panels: panel ? levelOrder(panel) : [''], levels: levelOrder(level) };
}
