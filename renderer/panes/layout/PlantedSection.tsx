import { useState } from 'react';
import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { markPlanted, unlockLayout } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { AnalysisRule } from '../shared/AnalysisRule';
import { Button, DateField, ReasonForm, Section, today } from '../../ui';
import { sayDay } from '../../words';

/** From the day of planting the layout is locked; it is unlocked knowingly. */
export function PlantedSection({ plan, layout }: { plan: Plan; layout: Layout }) {
  const dispatch = useDispatch();
  const [date, setDate] = useState(today());
  return (
    <Section title="At the rack">
      {layout.plantedAt ? (
        <>
          <p>
            Planted on {sayDay(layout.plantedAt)} and locked: no pot can be moved, added or removed.
          </p>
          <RuleOffer plan={plan} />
          <ReasonForm
            label="Reason for unlocking, kept among the incidents"
            action="Unlock"
            testId="unlock"
            onGive={(reason) => dispatch(unlockLayout, { date: today(), reason })}
          />
        </>
      ) : (
        <>
          <p className="field-remark">
            Once the plants stand in their holes, lock the layout so that nothing shifts by mistake.
          </p>
          <div className="planted-row">
            <DateField
              label="Planted on"
              value={date}
              testId="planted-on"
              onCommit={(next) => setDate(next ?? today())}
            />
            <Button onClick={() => dispatch(markPlanted, { date })} data-testid="planted">
              Mark as planted
            </Button>
          </div>
        </>
      )}
    </Section>
  );
}

/** The plants stand, so it is time to fix by what they will be judged. */
function RuleOffer({ plan }: { plan: Plan }) {
  const { trial } = plan;
  if (!trial || trial.analysisLocked) return null;
  return (
    <div className="card" data-testid="rule-offer">
      <p>The analysis is not locked yet. Lock it before the harvest: the report tells when.</p>
      <AnalysisRule plan={plan} trial={trial} />
    </div>
  );
}
