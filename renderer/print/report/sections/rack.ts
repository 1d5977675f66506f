import type { Plan } from '../../../../shared-types/plan';
import {
  correctionWords,
  lightOverTrialOf,
  placedPotsOf,
  planAsGrown,
  ppfdByPotOf,
  treatmentsOfPlan,
} from '../../../derive';
import { fixed, said } from '../../../words';
import type { Fragment } from '../../html';
import { words } from '../cells';
import { paragraphsHtml, tableHtml } from '../parts';
import { rackMap } from '../rackMap';

/** Treatments, where they stand, and the light there. */
export function rackHtml(drawn: Plan): Fragment {
  const plan = planAsGrown(drawn);
  const placed = placedPotsOf(plan);
  const ppfd = ppfdByPotOf(plan);
  const treatments = treatmentsOfPlan(plan);
  const values = [...ppfd.values()];
  const most = Math.max(...values);
  const key =
    treatments.length > 0
      ? tableHtml({
          name: 'key',
          caption: 'Treatments',
          columns: [{ head: 'Letter' }, { head: 'Treatment' }],
          rows: treatments.map((t) => [words(t.letter), words(t.name)]),
        })
      : null;
  const layout =
    placed.size > 0
      ? rackMap(plan, 'Layout', (id) => {
          const letter = placed.get(id)?.treatment?.letter;
          return letter ? { text: letter, grey: 0 } : null;
        })
      : null;
  const light =
    values.length > 0 && most > 0
      ? [
          paragraphsHtml([
            `Light at the pots, PPFD in µmol m⁻² s⁻¹: mean ${said(values.reduce((a, b) => a + b, 0) / values.length)}, ${said(Math.min(...values))} to ${said(most)}. ${plan.light.readings.length > 0 ? `${plan.light.readings.length} meter readings are in the plan.` : 'It is an estimate; no meter readings are in the plan.'}`,
            ...rotaWords(plan),
            ...[correctionWords(plan)].filter((said) => said !== null),
          ]),
          rackMap(plan, 'Light', (id) => {
            const value = ppfd.get(id);
            return value === undefined
              ? null
              : { text: fixed(value, 0), grey: 0.6 * (1 - value / most) };
          }),
        ]
      : null;
  return [key, layout, light];
}

/** The light that the pots had in all, where the trays were moved by a rota. */
function rotaWords(plan: Plan): string[] {
  const overTrial = lightOverTrialOf(plan);
  if (!overTrial) return [];
  if (!overTrial.ok) {
    return [`The rota of tray moves does not fit the rack (${overTrial.reason}).`];
  }
  const { days, rotated } = overTrial.value;
  if (!rotated) return [];
  return [
    `That is the light where the trays were drawn. They were moved by a rota: over the ${days} days of the trial the mean at the pots was ${said(rotated.mean)}, ${said(rotated.min)} to ${said(rotated.max)}.`,
  ];
}
