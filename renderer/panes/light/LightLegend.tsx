import { lightRangeOf } from '../../derive';
import { usePlanStore } from '../../store/context';
import { fixed, lightColour, Ramp } from '../../ui';

export function LightLegend() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  if (!plan) return null;
  const range = lightRangeOf(plan);
  if (!range) return <span>No lamp hangs over any shelf yet.</span>;
  return (
    <>
      <Ramp
        label="PPFD at canopy height"
        unit="µmol m⁻² s⁻¹"
        colour={lightColour}
        low={fixed(range.low, 0)}
        middle={fixed((range.low + range.high) / 2, 0)}
        high={fixed(range.high, 0)}
      />
      <span>Lines join equal PPFD. The number in a pot is its own.</span>
    </>
  );
}
