import { floodOf } from '../../derive';
import { useAsShown, usePlanStore } from '../../store';
import { unitOf } from '../../words';

export function FloodLegend() {
  const plan = useAsShown(usePlanStore((s) => s.preview ?? s.plan));
  const figures = plan ? floodOf(plan) : null;
  if (!plan || !figures) return <span>No flooding planned.</span>;
  return (
    <span>
      Water at its highest of the day. The number in a pot, where there is room for it, is the depth
      at its centre, {unitOf('length', plan.display.lengths)}.
      {figures.unzonedTrayIds.length > 0 ? ' Trays without water belong to no zone.' : ''}
    </span>
  );
}
