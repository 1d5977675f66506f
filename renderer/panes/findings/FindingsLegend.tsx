import type { ReactNode } from 'react';
import { useKept, usePlanStore } from '../../store/context';
import { useCurrentOutcome, useFindings } from '../../store/findingsContext';
import { Ramp, Segmented } from '../../ui';
import { RACK_SHOWN, racksOf, rackShownWords, shownOn } from './rackShown';

/** What the rack beside the findings shows, to be chosen, with its scale or the key of treatments. */
export function FindingsLegend({ treatments }: { treatments: ReactNode }) {
  const plan = usePlanStore((s) => s.plan);
  const outcome = useCurrentOutcome();
  const fromTable = useFindings((s) => s.fromTable);
  const [chosen, choose] = useKept(RACK_SHOWN);
  if (fromTable) {
    return <span>The rack shows the plan, not the pots of {fromTable.name}.</span>;
  }
  if (!plan) return null;
  const there = racksOf(plan, outcome);
  if (!outcome?.ok) return <span>Values appear on the rack once there are findings.</span>;
  const what = there.includes(chosen) ? chosen : 'residual';
  const shown = shownOn(plan, outcome, what);
  return (
    <div className="findings-legend">
      <Segmented
        label="What the rack shows"
        value={what}
        options={there.map((value) => ({ value, label: rackShownWords[value] }))}
        onChoose={choose}
        testId="rack-shown"
      />
      {what === 'treatment' ? treatments : null}
      {shown ? (
        <Ramp
          label={shown.label}
          unit={shown.unit}
          colour={shown.colour}
          low={shown.text(shown.from)}
          {...(what === 'residual' ? { middle: '0' } : {})}
          high={shown.text(shown.to)}
        />
      ) : null}
    </div>
  );
}
