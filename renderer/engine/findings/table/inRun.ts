import type { Findings } from '../findings';
import { potInRun } from './rows';

export { potInRun, potOfRow } from './rows';

/** The row of a pot of the rack: its own id, or that of the run where several are taken together. */
export const rowOfPot = ({ runs }: Pick<Findings, 'runs'>, potId: string, run: string): string =>
  runs ? potInRun(potId, run) : potId;

/** What is known of rows, by the pots of the rack as one run has them. */
export function inRunByPot<T>(
  { runs, pots }: Pick<Findings, 'runs' | 'pots'>,
  byRow: ReadonlyMap<string, T>,
  run: string,
): ReadonlyMap<string, T> {
  if (!runs) return byRow;
  return new Map(
    pots.flatMap(({ id, of }) => {
      const found = byRow.get(id);
      return of?.run === run && found !== undefined ? [[of.potId, found] as const] : [];
    }),
  );
}
