import { treatmentsOnScreen } from '../../print';
import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { placedPotsOf } from '../../derive';
import { swapPots } from '../../document/commands';
import { codeOfPot } from '../../document/queries/names';
import { idsOf } from '../../document/queries/refs';
import { useDispatch, useSession } from '../../store/context';
import { Checkbox, ReasonForm, Section, today } from '../../ui';
import { PairForm } from './PairForm';
import { plural, sayDay } from '../../words';

/** Plants that changed places after the draw, and the log of it. */
export function SwapSection({ plan }: { plan: Plan }) {
  const selection = useSession((s) => s.selection);
  const pots = idsOf(selection, 'pot');
  const [a, b, more] = pots;
  const swaps = plan.layout?.swaps ?? [];
  return (
    <Section title="Exchanged by hand" testId="swaps">
      {swaps.length > 0 ? (
        <ul className="plain-list">
          {swaps.map((swap, i) => (
            <li key={i}>
              {sayDay(swap.date)}: {codeOfPot(plan, swap.a)} and {codeOfPot(plan, swap.b)}
              {swap.reason ? ` – ${swap.reason}` : ''}
            </li>
          ))}
        </ul>
      ) : null}
      {a !== undefined && b !== undefined && more === undefined ? (
        <SwapForm key={`${a} ${b}`} plan={plan} a={a} b={b} />
      ) : (
        <>
          <p className="field-remark">{hint(plan, pots)}</p>
          <PairForm plan={plan} />
        </>
      )}
    </Section>
  );
}

function hint(plan: Plan, pots: readonly string[]): string {
  const [only, ...more] = pots;
  if (only === undefined) {
    return 'Two plants in each other’s places? Click one pot, the other with Shift, or type their codes: the analysis follows.';
  }
  return more.length === 0
    ? `Pot ${codeOfPot(plan, only)} is selected. Click the other one with Shift.`
    : `${plural(pots.length, 'pot')} are selected; an exchange needs two.`;
}

function SwapForm({ plan, a, b }: { plan: Plan; a: string; b: string }) {
  const dispatch = useDispatch();
  const [recordsMove, setRecordsMove] = useState(true);
  const placed = placedPotsOf(plan);
  const { byIndex } = treatmentsOnScreen(plan);
  const say = (id: string) => {
    const letter = byIndex[placed.get(id)?.index ?? -1]?.mark;
    return letter === undefined ? codeOfPot(plan, id) : `${codeOfPot(plan, id)} (${letter})`;
  };
  const recorded = [...Object.values(plan.records.values), plan.records.marks].some(
    (byPot) => byPot[a] !== undefined || byPot[b] !== undefined,
  );
  return (
    <>
      {recorded ? (
        <Checkbox
          label="What is recorded so far goes with the plants"
          checked={recordsMove}
          onCommit={setRecordsMove}
        />
      ) : null}
      <ReasonForm
        label={`Reason for exchanging ${say(a)} and ${say(b)}`}
        action="Log the exchange"
        testId="swap"
        onGive={(reason) => dispatch(swapPots, { a, b, date: today(), reason, recordsMove })}
      />
    </>
  );
}
