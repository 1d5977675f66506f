import { lightRangeOf } from '../../derive';
import { usePlanStore } from '../../store/context';
import { fixed, lightColour, Ramp } from '../../ui';
import { lightShown, type LightShown } from './shown';

const WORDS: Record<LightShown, string> = {
  all: 'Lines join equal PPFD. The number in a pot is its own, where there is room.',
  dragging: 'Direct light alone while you drag; reflected light is added when you let go.',
  computing: 'Colours show direct light alone; reflected light is being computed.',
};

export function LightLegend() {
  const shownPlan = usePlanStore((s) => s.preview ?? s.plan);
  const previewing = usePlanStore((s) => s.preview !== null);
  if (!shownPlan) return null;
  const shown = lightShown(shownPlan, previewing);
  const range = lightRangeOf(shownPlan, shown === 'all' ? 'reflected' : 'direct');
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
      <span data-testid="light-shown">{WORDS[shown]}</span>
    </>
  );
}
