import type { Plan } from '../../../../shared-types/plan';
import {
  applicationWords,
  unitWords,
  type Factor,
  type Trial,
} from '../../../../shared-types/trial/trial';
import { schemeLabels } from '../../../../shared-types/trial/scheme';
import { measurementLabel } from '../../../document/queries/names';
import { hasSeveralRuns, runName, runsOf } from '../../../document/runs';
import type { Swap } from '../../../../shared-types/run';
import { engineVersion, placedPotsOf, potsOf } from '../../../derive';
import { settingsWords } from '../../../engine/treated';
import { chosenShare, fixed, list, plural, speechIn, sayDay } from '../../../words';
import type { FindingsTable } from '../cells';
import type { Fact } from '../parts';
import { blocksWords } from '../words';
import { settingsTable } from './compact';

/** Each factor: its levels, how they reach the plants, and what got a treatment of its own. */
export function factorsTable(plan: Plan): FindingsTable | null {
  return settingsTable({
    name: 'factors',
    caption: 'What is compared',
    heads: [
      'Factor',
      'Levels, and what each sets',
      'Applied through',
      'Own treatment for each',
      'Given',
    ],
    rows: (plan.trial?.factors ?? []).map((factor) => [
      factor.name,
      levelsWords(plan, factor),
      factor.appliedThrough ? applicationWords[factor.appliedThrough] : 'not said',
      unitWords[factor.unit].one,
      factor.kind === 'randomised' ? 'shuffled' : 'not shuffled',
    ]),
  });
}

function levelsWords({ rack, flood, display }: Plan, { levels, control }: Factor): string {
  const names = { lampKinds: rack.lampKinds, media: flood?.media ?? [] };
  const say = speechIn(display.lengths);
  return levels
    .map(({ id, name, times = 1, settings }) => {
      const set = settings ? settingsWords(settings, names, say) : null;
      const more = [
        ...(id === control ? ['control'] : []),
        ...(times > 1 ? [`drawn ${times} times as often`] : []),
      ];
      return `${name}${more.length > 0 ? ` (${more.join(', ')})` : ''}${set ? `: ${set}` : ''}`;
    })
    .join('; ');
}

/** Scheme, blocks, seed and all that the draw can be repeated from. */
export function drawFacts(plan: Plan): Fact[] {
  const { trial, layout } = plan;
  if (!trial) return [];
  const pots = potsOf(plan);
  const guards = pots.filter(({ guard }) => guard).length;
  const placed = placedPotsOf(plan).size;
  return [
    ['Scheme', `${schemeLabels[layout?.scheme ?? trial.scheme]}, ${blocksWords(trial.blocks)}`],
    ['How picky', pickyWords(trial)],
    [
      'Pots',
      `${plural(layout ? placed : pots.length - guards, 'pot')} in the trial${guards > 0 ? `, ${plural(guards, 'guard pot')}` : ''}`,
    ],
    ...(plan.plants
      ? [
          [
            'Plants',
            `${plural(plan.plants.length, 'plant')} weighed before the draw`,
          ] satisfies Fact,
        ]
      : []),
    ...(layout
      ? ([
          ['Seed of the draw', layout.seed],
          ['Drawn', `${sayDay(layout.drawnAt)}, by Evenrack ${layout.engineVersion}`],
          [
            'Exchanged by hand',
            layout.swaps.length > 0 ? plural(layout.swaps.length, 'pair') : 'none',
          ],
        ] satisfies Fact[])
      : []),
    ['Computed by', `Evenrack ${engineVersion}`],
  ];
}

function pickyWords({ constraint }: Trial): string {
  const { acceptanceShare, balance, likeNeighbours } = constraint;
  const said = [
    ...(acceptanceShare < 1 && balance.length > 0
      ? [`best ${chosenShare(acceptanceShare)} of draws by balance in ${list(balance)}`]
      : []),
    ...(likeNeighbours === null
      ? []
      : [`at most ${likeNeighbours} pots of one treatment side by side`]),
  ];
  return said.length > 0 ? said.join('; ') : 'not: the first draw was taken';
}

const dayOr = (day: string | null | undefined, none: string): string => (day ? sayDay(day) : none);

/** When what was done, as far as the plan knows, and a line for whom. */
export function dateFacts({ trial, layout }: Plan): Fact[] {
  if (!trial) return [];
  const locked = trial.analysisLocked;
  return [
    ['Start', dayOr(trial.startDate, 'not said')],
    ['Planted', dayOr(layout?.plantedAt, 'not marked as planted')],
    ['Harvest', dayOr(trial.harvestDate, 'not said')],
    [
      'Analysis locked',
      locked ? `${sayDay(locked.date)}, with ${plural(locked.valuesThen, 'value')} recorded` : 'no',
    ],
    // The plan knows no names: to be written by hand.
    ['Carried out by', '______________________'],
  ];
}

/** Each run: its dates and draw; null where there is one. */
export function runsTable(plan: Plan): FindingsTable | null {
  if (!hasSeveralRuns(plan)) return null;
  return settingsTable({
    name: 'runs',
    caption: `Runs of the trial; what follows is of ${runName(plan).toLowerCase()}`,
    heads: ['Run', 'Start', 'Planted', 'Harvest', 'Drawn', 'Seed', 'Levels swapped'],
    rows: runsOf(plan).map(({ startDate, harvestDate, layout, swap }, i) => [
      String(i + 1),
      dayOr(startDate, 'not said'),
      dayOr(layout?.plantedAt, 'no'),
      dayOr(harvestDate, 'not said'),
      dayOr(layout?.drawnAt, 'no'),
      layout?.seed ?? '',
      swap ? swapWords(plan, swap) : 'no',
    ]),
  });
}

function swapWords(plan: Plan, { fromRun, factorId }: Swap): string {
  const factor = plan.trial?.factors.find(({ id }) => id === factorId);
  return `${factor?.name ?? factorId}, against ${runName(plan, fromRun).toLowerCase()}`;
}

/** What was measured, and when. */
export function measurementsTable({ trial, records }: Plan): FindingsTable | null {
  return settingsTable({
    name: 'measurements',
    caption: 'What was measured',
    heads: ['Measurement', 'Unit', 'To', 'Date', 'Plants'],
    rows: (trial?.measurements ?? []).map((measurement) => {
      const { id, unit, decimals, date } = measurement;
      const step = decimals === 0 ? '1' : fixed(10 ** -decimals, decimals);
      return [
        measurementLabel({ ...measurement, date: null }) +
          (id === trial?.primaryOutcomeId ? ' (main result)' : ''),
        unit,
        step,
        dayOr(date, 'not said'),
        String(Object.keys(records.values[id] ?? {}).length),
      ];
    }),
  });
}
