import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { keepLayout, markPlanted, swapPots, unlockLayout } from '../../document/commands';
import { drawFor, verifyOf } from '../../derive';
import { codeOfPot } from '../../document/queries/names';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState, Facts, FieldRow, plural, Section, TextField } from '../../ui';
import { BalanceTables } from './BalanceTable';

/** Draw, redraw, verify, plant and lock the layout. */
export function LayoutSide() {
  const plan = usePlanStore((s) => s.plan);
  const goTo = useSession((s) => s.goTo);
  if (!plan) return null;
  if (!plan.trial) {
    return (
      <EmptyState
        title="Nothing to lay out yet"
        actions={
          <Button tone="primary" onClick={() => goTo('trial')}>
            Plan the trial
          </Button>
        }
      >
        The layout shuffles treatments over the pots; first say what is compared.
      </EmptyState>
    );
  }
  if (plan.trial.factors.length === 0) {
    return (
      <EmptyState title="No draw is needed">
        All plants are treated alike, so there is nothing to shuffle. Records and findings work
        without a layout.
      </EmptyState>
    );
  }
  return (
    <>
      <DrawSection plan={plan} />
      {plan.layout ? <PlantedSection plan={plan} /> : null}
      {plan.layout ? <SwapSection plan={plan} /> : null}
      <BalanceTables />
    </>
  );
}

function DrawSection({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const [seed, setSeed] = useState(plan.layout?.seed ?? plan.title);
  const [problem, setProblem] = useState<string | null>(null);
  const [verdict, setVerdict] = useState<string | null>(null);
  const { layout } = plan;
  const draw = () => {
    setVerdict(null);
    const drawn = drawFor(plan, seed, new Date().toISOString());
    setProblem(drawn.ok ? null : drawn.reason);
    if (drawn.ok) dispatch(keepLayout, { layout: drawn.value });
  };
  const verify = () => {
    const result = verifyOf(plan);
    if (!result) return;
    setVerdict(
      !result.redrawn
        ? 'The plan has changed since the draw, so it cannot be drawn again and compared.'
        : result.differing.length === 0
          ? 'Drawn again from its seed: identical, pot by pot.'
          : `Drawn again from its seed: ${plural(result.differing.length, 'pot')} differ, first ${codeOfPot(plan, result.differing[0] ?? '')}.`,
    );
  };
  const locked = layout?.plantedAt !== null && layout !== null;
  return (
    <Section title="The draw">
      <FieldRow>
        <TextField
          label="Seed, any text"
          value={seed}
          longest={200}
          disabled={locked}
          testId="seed"
          remark="The same seed and plan give the same layout on every machine."
          onCommit={setSeed}
        />
      </FieldRow>
      <div className="section-actions">
        <Button tone="primary" onClick={draw} disabled={locked} data-testid="draw">
          {layout ? 'Draw again' : 'Draw the layout'}
        </Button>
        <Button onClick={verify} disabled={!layout} data-testid="verify">
          Verify
        </Button>
      </div>
      {problem ? (
        <p className="field-problem" role="alert">
          {problem}
        </p>
      ) : null}
      {verdict ? <p role="status">{verdict}</p> : null}
      {layout ? (
        <Facts
          rows={[
            ['Seed', layout.seed],
            ['Drawn', layout.drawnAt.slice(0, 16).replace('T', ' ')],
            ['Scheme', layout.scheme.replaceAll('-', ' ')],
            ['Pots', String(layout.assignments.length)],
            ['Candidate draws', String(layout.candidates)],
          ]}
        />
      ) : (
        <p className="field-remark">
          Nothing is drawn yet. Drawing gives every pot its treatment by lot, within the blocks of
          the trial.
        </p>
      )}
    </Section>
  );
}

function PlantedSection({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const layout = plan.layout;
  const today = new Date().toISOString().slice(0, 10);
  if (!layout) return null;
  return (
    <Section title="At the rack">
      {layout.plantedAt ? (
        <>
          <p>
            Planted on {layout.plantedAt}. The pots are locked: edits that would move, add or remove
            one of them are refused.
          </p>
          <TextField
            label="Unlock, with a reason"
            value=""
            mayBeEmpty
            longest={2000}
            onCommit={(reason) => {
              if (reason) dispatch(unlockLayout, { date: today, reason });
            }}
          />
        </>
      ) : (
        <>
          <p className="field-remark">
            Once the plants stand in their holes, lock the layout so that nothing shifts by mistake.
          </p>
          <div className="section-actions">
            <Button onClick={() => dispatch(markPlanted, { date: today })} data-testid="planted">
              Mark as planted today
            </Button>
          </div>
        </>
      )}
    </Section>
  );
}

function SwapSection({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const selection = useSession((s) => s.selection);
  const pots = selection.filter((ref) => ref.startsWith('pot:')).map((ref) => ref.slice(4));
  const [a, b] = pots;
  const swaps = plan.layout?.swaps ?? [];
  const today = new Date().toISOString().slice(0, 10);
  return (
    <Section title="Exchanged by hand">
      {swaps.length === 0 ? (
        <p className="field-remark">
          Two pots put in each other’s holes? Select both on the rack and log the exchange: the
          analysis follows it.
        </p>
      ) : (
        <ul className="plain-list">
          {swaps.map((swap, i) => (
            <li key={i}>
              {swap.date}: {codeOfPot(plan, swap.a)} and {codeOfPot(plan, swap.b)}
              {swap.reason ? ` – ${swap.reason}` : ''}
            </li>
          ))}
        </ul>
      )}
      {a && b && pots.length === 2 ? (
        <TextField
          label={`Reason for exchanging ${codeOfPot(plan, a)} and ${codeOfPot(plan, b)}`}
          value=""
          mayBeEmpty
          longest={2000}
          onCommit={(reason) => {
            if (reason) dispatch(swapPots, { a, b, date: today, reason, recordsMove: true });
          }}
        />
      ) : null}
    </Section>
  );
}
