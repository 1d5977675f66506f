import { useState } from 'react';
import type { Layout } from '../../../shared-types/layout';
import { markPlanted, unlockLayout } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, DateField, Section, today } from '../../ui';
import { ReasonForm } from './ReasonForm';

/** From the day of planting the layout is locked; it is unlocked knowingly. */
export function PlantedSection({ layout }: { layout: Layout }) {
  const dispatch = useDispatch();
  const [date, setDate] = useState(today());
  return (
    <Section title="At the rack">
      {layout.plantedAt ? (
        <>
          <p>
            Planted on {layout.plantedAt}. The pots are locked: edits that would move, add or remove
            one of them are refused.
          </p>
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
