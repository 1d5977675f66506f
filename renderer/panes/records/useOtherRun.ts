import { useEffect, useRef } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { OtherRunLabel } from '../../document/records';
import { runName } from '../../document/runs';
import type { Pot } from '../../engine/geometry';
import { useKept, usePlanStore } from '../../store/context';
import type { Offer } from './grid/QuestionLine';

/** The pot of a label that was scanned while another run was shown. */
const SCANNED = {
  name: 'label of another run',
  initial: null as { runId: string; pot: Pot } | null,
};

/** Goes to the run of a label and on to its pot; the records then begin anew there. */
export function useOtherRun(
  plan: Plan,
  goToPot: (pot: Pot) => void,
): (label: OtherRunLabel) => Offer {
  const seeRun = usePlanStore((s) => s.seeRun);
  const [scanned, keepScanned] = useKept(SCANNED);
  const arrive = useRef(goToPot);
  useEffect(() => {
    arrive.current = goToPot;
  });
  useEffect(() => {
    if (scanned?.runId !== plan.runId) return;
    keepScanned(null);
    arrive.current(scanned.pot);
  });
  return ({ runId, pot }) => ({
    words: `Go to ${runName(plan, runId).toLowerCase()}`,
    act: () => {
      keepScanned({ runId, pot });
      seeRun(runId);
    },
  });
}
