import type { ReactNode } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { FindingsOutcome } from '../../../engine/findings';
import { useKept, usePlanStore } from '../../../store/context';
import { useCurrentOutcome, useFindings } from '../../../store/findingsContext';
import { Ramp, Select } from '../../../ui';
import {
  RACK_BESIDE,
  RACK_SHOWN,
  racksChosen,
  racksOf,
  rackShownWords,
  shownOn,
  type RackShown,
} from './rackShown';

/** What the racks beside the findings show, to be chosen, each with its scale or key. */
export function FindingsLegend({ treatments }: { treatments: ReactNode }) {
  const plan = usePlanStore((s) => s.plan);
  const outcome = useCurrentOutcome();
  const fromTable = useFindings((s) => s.fromTable);
  const [shown, show] = useKept(RACK_SHOWN);
  const [aside, showAside] = useKept(RACK_BESIDE);
  if (fromTable) {
    return <span>The rack shows the plan, not the pots of {fromTable.name}.</span>;
  }
  if (!plan) return null;
  const there = racksOf(plan, outcome);
  if (there.length === 0) {
    return <span>Values appear on the rack once there are findings.</span>;
  }
  const { first, beside } = racksChosen(there, shown, aside);
  const options = there.map((value) => ({ value, label: rackShownWords[value] }));
  const scale = (what: RackShown) => <Scale {...{ plan, outcome, what, treatments }} />;
  return (
    <div className="findings-legend">
      <div>
        <Select
          label="On the rack"
          value={first}
          options={options}
          onCommit={show}
          testId="rack-shown"
        />
        {scale(first)}
      </div>
      <div>
        <Select<RackShown | 'none'>
          label="Beside it"
          value={beside ?? 'none'}
          options={[
            { value: 'none', label: 'nothing' },
            ...options.filter(({ value }) => value !== first),
          ]}
          onCommit={showAside}
          testId="rack-beside"
        />
        {beside ? scale(beside) : null}
      </div>
    </div>
  );
}

function Scale(props: {
  plan: Plan;
  outcome: FindingsOutcome | null;
  what: RackShown;
  treatments: ReactNode;
}) {
  const { plan, outcome, what } = props;
  const shown = shownOn(plan, outcome, what);
  if (!shown) return props.treatments;
  return (
    <Ramp
      label={shown.label}
      unit={shown.unit}
      colour={shown.colour}
      low={shown.text(shown.from)}
      {...(what === 'residual' ? { middle: '0' } : {})}
      high={shown.text(shown.to)}
    />
  );
}
