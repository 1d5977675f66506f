import { blocksOfPlan } from '../../derive';
import { usePlanStore } from '../../store/context';
import { Swatch, treatmentLook } from '../../ui';

const SHOWN = 12;

export function BlockLegend() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  if (!plan?.trial) return <span>Blocks appear here once a trial is begun.</span>;
  const blocks = blocksOfPlan(plan);
  if (!blocks.ok) return <span>{blocks.reason}</span>;
  return (
    <>
      {blocks.value.slice(0, SHOWN).map((block, index) => (
        <span key={block.key} className="legend-item">
          <Swatch
            look={{ ...treatmentLook(index), pattern: 'plain' }}
            letter={String(index + 1)}
            size={18}
          />
          {block.name}, {block.potIds.length} pots
        </span>
      ))}
      {blocks.value.length > SHOWN ? <span>and {blocks.value.length - SHOWN} more</span> : null}
    </>
  );
}
