import { renderToString } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import {
  StoreProvider,
  createPlanStore,
  createSessionStore,
  useDispatch,
  usePlanStore,
  useSession,
} from '../../renderer/store';
import { samplePlan } from '../builders/samplePlan';

function Probe() {
  const title = usePlanStore((state) => state.plan?.title ?? 'none');
  const stage = useSession((state) => state.stage);
  const dispatch = useDispatch();
  return <p>{`${title}, ${stage}, ${typeof dispatch}`}</p>;
}

describe('the stores in components', () => {
  it('reach what is drawn within the provider', () => {
    const stores = { plan: createPlanStore(), session: createSessionStore() };
    stores.plan.getState().open(samplePlan(), null);
    // Zustand draws a first state on a server; what counts is that the hooks find their stores.
    const html = renderToString(
      <StoreProvider stores={stores}>
        <Probe />
      </StoreProvider>,
    );
    expect(html).toBe('<p>none, rack, function</p>');
  });

  it('say so outside of it', () => {
    expect(() => renderToString(<Probe />)).toThrow(/StoreProvider/);
  });
});
