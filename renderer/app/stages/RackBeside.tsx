import { useMemo } from 'react';
import type { Notice } from '../../../shared-types/notice';
import { RackCanvas } from '../../canvas';
import {
  findingsLook,
  RACK_BESIDE,
  RACK_SHOWN,
  racksChosen,
  racksOf,
  rackShownWords,
} from '../../panes/findings';
import { layoutLook } from '../../panes/layout';
import { useAsShown } from '../../store';
import { useKept, usePlanStore } from '../../store/context';
import { useCurrentOutcome, useFindings } from '../../store/findingsContext';

/** The same rack once more by something else, such as the light beside the harvest. */
export function RackBeside({ notices }: { notices: readonly Notice[] }) {
  const plan = useAsShown(usePlanStore((s) => s.plan));
  const outcome = useCurrentOutcome();
  const fromTable = useFindings((s) => s.fromTable);
  const [shown] = useKept(RACK_SHOWN);
  const [aside] = useKept(RACK_BESIDE);
  const what = useMemo(
    () => (plan ? racksChosen(racksOf(plan, outcome), shown, aside).beside : null),
    [plan, outcome, shown, aside],
  );
  const look = useMemo(() => {
    if (!plan || what === null) return null;
    const treatments = layoutLook(plan, notices).potPaint ?? new Map();
    return { ...findingsLook(plan, notices, outcome, what, treatments), rack: plan.rack };
  }, [plan, notices, outcome, what]);
  if (!look || what === null || fromTable) return null;
  return <RackCanvas look={look} notices={notices} beside={rackShownWords[what]} />;
}
