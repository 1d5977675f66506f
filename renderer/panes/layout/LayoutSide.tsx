import { blindedSince } from '../../document/queries';
import { usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState, Section } from '../../ui';
import { BlindSection } from './BlindSection';
import { BalanceTables } from './BalanceTable';
import { DrawSection } from './DrawSection';
import { PlantedSection } from './PlantedSection';
import { PlantsSection } from './PlantsSection';
import { Substitute } from './Substitute';
import { SwapSection } from './SwapSection';
import './layout.css';

/** Draw, draw again, verify, plant and lock the layout. */
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
      <EmptyState
        title="No draw is needed"
        actions={<Button onClick={() => goTo('records')}>Record the plants</Button>}
      >
        All plants are treated alike, so there is nothing to shuffle. Records and findings work
        without a layout.
      </EmptyState>
    );
  }
  // What was drawn and how it balances would tell the treatments.
  if (blindedSince(plan) !== null) {
    return (
      <>
        <Section title="Blinded">
          <p className="field-remark">
            What was drawn, and how it balances, waits until the blinding is opened.
          </p>
        </Section>
        {plan.plants ? (
          <Section title="Plants to pots">
            <Substitute plan={plan} />
          </Section>
        ) : null}
        <SwapSection plan={plan} />
      </>
    );
  }
  return (
    <>
      <DrawSection plan={plan} />
      <PlantsSection plan={plan} />
      {plan.layout ? <PlantedSection plan={plan} layout={plan.layout} /> : null}
      {plan.layout ? <SwapSection plan={plan} /> : null}
      {plan.layout ? <BlindSection /> : null}
      <BalanceTables />
    </>
  );
}
