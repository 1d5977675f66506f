import type { Notice } from '../../shared-types/notice';
import type { Trial } from '../../shared-types/trial';
import { bind, idsOf, type BoundCommand } from '../document';
import { setRackByLevels } from '../document/commands';

/** What the program can do about a notice by itself; null: it is for the person to mend. */
export function noticeAct(
  notice: Notice,
  trial: Trial | null,
): { label: string; command: BoundCommand } | null {
  if (notice.kind !== 'treatment-not-applied' || notice.severity !== 'warn') return null;
  const [factorId] = idsOf(notice.about, 'factor');
  const factor = trial?.factors.find(({ id }) => id === factorId);
  const contradicted = notice.text.startsWith('The rack is drawn otherwise');
  if (!factor || !contradicted) return null;
  return {
    label: 'Set the rack as the levels say',
    command: bind(setRackByLevels, { factorId: factor.id }),
  };
}
