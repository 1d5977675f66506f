import type { Plan } from '../../../shared-types/plan';
import { lightOverTrialOf, lightRangeOf, potLightOf, type LightCounted } from '../../derive';
import { useAsShown, usePlanStore } from '../../store';
import { lightColour, Ramp } from '../../ui';
import { lightShown, type LightShown } from './shown';
import { useLightSession } from './lightSession';
import { fixed } from '../../words';

export function LightLegend() {
  const shownPlan = useAsShown(usePlanStore((s) => s.preview ?? s.plan));
  const plan = useAsShown(usePlanStore((s) => s.plan));
  const previewing = usePlanStore((s) => s.preview !== null);
  const overTrial = useLightSession((s) => s.overTrial);
  if (!shownPlan || !plan) return null;
  const { showing, counted } = lightShown(plan, previewing, overTrial);
  const range = lightRangeOf(shownPlan, counted);
  if (!range) return <span>No lamp hangs over any shelf yet.</span>;
  return (
    <>
      <Ramp
        label={`PPFD, ${standing(shownPlan, showing === 'dragging' ? counted : 'reflected')}`}
        unit="µmol m⁻² s⁻¹"
        colour={lightColour}
        low={fixed(range.low, 0)}
        middle={fixed((range.low + range.high) / 2, 0)}
        high={fixed(range.high, 0)}
      />
      <span data-testid="light-shown">{words(shownPlan, showing)}</span>
    </>
  );
}

/** Whether meter readings stand behind the lit shelves' figures. */
function standing(plan: Plan, counted: LightCounted): string {
  const { shelves } = potLightOf(plan, counted);
  const sources = new Set(
    plan.rack.shelves
      .filter((shelf) => shelf.lamps.length > 0)
      .map((shelf) => shelves.get(shelf.id)?.source ?? 'estimated'),
  );
  if (sources.size > 1) return 'calibrated in part';
  return sources.values().next().value ?? 'estimated';
}

function words(plan: Plan, showing: LightShown['showing']): string {
  switch (showing) {
    case 'dragging':
      return 'Direct light alone while you drag; reflected light is added when you let go.';
    case 'computing':
      return 'Colours show direct light alone; reflected light is being computed.';
    case 'overTrial': {
      const found = lightOverTrialOf(plan);
      const days = found?.ok ? found.value.days : 0;
      const moved = found?.ok && found.value.moved ? ' with the rota' : '';
      return (
        `The number and colour of a pot are its mean of ${days} days${moved}; ` +
        'lines and colours beside the pots are the light as drawn.'
      );
    }
    case 'all':
      return 'Lines join equal PPFD at canopy height. The number in a pot is its own, where there is room.';
  }
}
