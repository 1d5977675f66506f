import { runName, runsOf } from '../../../document/runs';
import { potInRun, potOfRow } from '../../../engine/findings';
import { usePlanStore, useSession } from '../../../store/context';

/** What a pot of the run in hand is called in the rows, by itself and among runs. */
export const rowsOfPot = (potId: string, inHand: string | null): string[] => [
  potId,
  potInRun(potId, inHand ?? ''),
];

/** From the rows of the findings to the pots of the run in hand, and back. */
export function useRowPots() {
  const plan = usePlanStore((s) => s.plan);
  const seeRun = usePlanStore((s) => s.seeRun);
  const select = useSession((s) => s.select);
  const inHand = plan ? runName(plan) : null;
  return {
    /** The pot of a row; null where it stands in another run. */
    potHere(row: string): string | null {
      const { potId, run } = potOfRow(row);
      return run === null || run === inHand ? potId : null;
    },
    inHand,
    /** Selects the pot of a row, in whichever run it stands. */
    goTo(row: string): void {
      const { potId, run } = potOfRow(row);
      const other =
        plan && run !== null && runsOf(plan).find(({ id }) => runName(plan, id) === run);
      if (other) seeRun(other.id);
      select([`pot:${potId}`]);
    },
  };
}
