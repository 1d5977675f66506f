import { useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { measuredPotsOf } from '../../derive/records/valueQuestions';
import { refTo } from '../../document/queries';
import { labelBook } from '../../document/records';
import { usePlanStore, useSession } from '../../store/context';
import { Button, Dialog, Field } from '../../ui';

/** Finds a pot from any stage, by its code, its plant or a scanned label. */
export function FindPotDialog() {
  const open = useSession((s) => s.finding);
  const findPot = useSession((s) => s.findPot);
  const plan = usePlanStore((s) => s.plan);
  return open && plan ? <Finder plan={plan} onClose={() => findPot(false)} /> : null;
}

function Finder({ plan, onClose }: { plan: Plan; onClose: () => void }) {
  const select = useSession((s) => s.select);
  const view = useSession((s) => s.view);
  const setView = useSession((s) => s.setView);
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const { rack, layout, earlierRuns } = plan;
  const find = useMemo(
    () => labelBook({ rack, layout, ...(earlierRuns ? { earlierRuns } : {}) }),
    [rack, layout, earlierRuns],
  );
  const go = () => {
    const found = find(text);
    if (found === undefined) {
      const [first] = measuredPotsOf(rack, layout);
      setProblem(`No pot bears “${text.trim()}”.${first ? ` Codes look like ${first.code}.` : ''}`);
      return;
    }
    if (found === 'several') {
      setProblem(`“${text.trim()}” fits several pots.`);
      return;
    }
    // From the front pots stand behind each other.
    if (view === 'front') setView('all');
    select([refTo('pot', found.id)]);
    onClose();
  };
  return (
    <Dialog
      title="Find a pot"
      testId="find-pot"
      onClose={onClose}
      actions={
        <>
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            data-testid="find-pot-go"
            disabled={text.trim() === ''}
            onClick={go}
          >
            Show it on the rack
          </Button>
        </>
      }
    >
      <Field label="Code of the pot or its plant, or scan its label" problem={problem}>
        {(id, describedBy) => (
          <input
            id={id}
            className="input"
            data-testid="find-pot-text"
            autoComplete="off"
            spellCheck={false}
            aria-describedby={describedBy}
            value={text}
            onChange={(event) => {
              setText(event.target.value);
              setProblem(null);
            }}
            onKeyDown={(event) => {
              if (event.key === 'Enter' && text.trim() !== '') {
                event.preventDefault();
                go();
              }
            }}
          />
        )}
      </Field>
    </Dialog>
  );
}
