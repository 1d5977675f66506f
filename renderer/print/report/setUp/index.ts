import type { Plan } from '../../../../shared-types/plan';
import { correctionWords, lightOverTrialOf, planAsGrown } from '../../../derive';
import { said } from '../../../words';
import type { Fragment } from '../../html';
import { factsHtml, pairHtml, paragraphsHtml, tableHtml } from '../parts';
import { hangingTable, lampKindsTable, lightTables, lightWords } from './light';
import { shelvesTable, traysTable } from './rack';
import { dateFacts, drawFacts, factorsTable, measurementsTable, runsTable } from './trial';
import { mediaTable, reservoirsTable } from './water';

/** Every setting by name, so that the trial can be repeated. */
export function setUpHtml(plan: Plan): Fragment {
  const [byPlace, byTreatment] = lightTables(plan);
  return [
    tableHtml(factorsTable(plan)),
    tableHtml(runsTable(plan)),
    pairHtml(factsHtml('Draw', drawFacts(plan)), [
      factsHtml('Dates', dateFacts(plan)),
      tableHtml(measurementsTable(plan)),
    ]),
    pairHtml(tableHtml(shelvesTable(plan)), tableHtml(traysTable(plan))),
    tableHtml(lampKindsTable(plan)),
    tableHtml(hangingTable(plan)),
    tableHtml(reservoirsTable(plan)),
    tableHtml(mediaTable(plan)),
    pairHtml(
      [
        tableHtml(byPlace),
        paragraphsHtml([
          lightWords(plan),
          ...rotaWords(planAsGrown(plan)),
          ...[correctionWords(plan)].filter((text) => text !== null),
        ]),
      ],
      tableHtml(byTreatment),
    ),
    plan.notes ? paragraphsHtml([`Notes: ${plan.notes}`]) : null,
  ];
}

/** The light that the pots had in all, where the trays were moved or heights were recorded. */
function rotaWords(plan: Plan): string[] {
  const overTrial = lightOverTrialOf(plan);
  if (!overTrial) return [];
  if (!overTrial.ok) {
    return (plan.light.rota ?? []).length > 0
      ? [`The rota of tray moves does not fit the rack (${overTrial.reason}).`]
      : [`Light over the trial cannot be told (${overTrial.reason}).`];
  }
  const { days, rotated, moved, heights } = overTrial.value;
  if (!rotated) return [];
  const grown = heights === 'recorded' ? ' The canopy follows the heights recorded.' : '';
  if (!moved) {
    return [
      `That is the light at one canopy height. Over the ${days} days of the trial, as the plants grew, the mean at the pots was ${said(rotated.mean)}, ${said(rotated.min)} to ${said(rotated.max)}.${grown}`,
    ];
  }
  return [
    `That is the light where the trays were drawn. They were moved by a rota: over the ${days} days of the trial the mean at the pots was ${said(rotated.mean)}, ${said(rotated.min)} to ${said(rotated.max)}.${grown}`,
  ];
}
