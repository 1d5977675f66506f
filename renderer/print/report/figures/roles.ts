import { levelOrder, type FactorRole, type Findings } from '../../../engine/findings';
import { SYMBOLS } from './draw';

/** More panels, or more levels in them, leave no room for dots. */
const MOST = SYMBOLS.length;

/** What a picture of single plants tells apart: panels by the first of two factors, marks by the last. */
export interface PictureRoles {
  panel: FactorRole | null;
  level: FactorRole;
  panels: string[];
  levels: string[];
}

/** null where the factors have too many levels, or there are none. */
export function pictureRoles(roles: readonly FactorRole[]): PictureRoles | null {
  const fitting = roles.filter((role) => role.unitsPerLevel.size <= MOST);
  const [first, second] = fitting;
  if (!first) return null;
  const [panel, level] = second ? [first, second] : [null, first];
  return { panel, level, panels: panel ? levelOrder(panel) : [''], levels: levelOrder(level) };
}

/** The factors that a picture of the findings shows: those tested, or else those that could not be. */
export const picturedRoles = ({ design }: Findings): PictureRoles | null =>
  pictureRoles(design.tested.length > 0 ? design.tested : design.notReplicated);
