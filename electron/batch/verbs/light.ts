import type { Plan } from '../../../shared-types/plan';
import {
  lightGroupsOf,
  lightIntervalsOf,
  potLightOf,
  potsOf,
  startHere,
  withheldOf,
} from '../../../renderer/derive';
import { writeDelimited } from '../../../renderer/tables';
import { baysOf, trayCode } from '../../../renderer/engine/geometry';
import { bayHours } from '../../../renderer/engine/light';
import { BatchError } from '../batchError';
import { asAsked, blindedInResult } from '../asAsked';
import { readPlanFile } from '../inputs';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { lightReady } from '../lightReady';
import { Text, type Verb } from '../verb';
import {
  summaryFigures,
  groups,
  calibrations,
  fittedCalibration,
  overTrial,
  ownHeights,
  energy,
} from '../lightFigures';

export const lightVerb: Verb = {
  name: 'light',
  gives:
    'PPFD and DLI at every pot with its ± (95 %); evenness by shelf, bay, tray, block and treatment; calibration; energy; ' +
    'light over the trial where trays are moved. Of the rack as treated where there is a layout; --bare, and while the trial is blinded: as drawn.',
  takes: ['PLAN'],
  options: { csv: 'flag', bare: 'flag', ...runOption },
  async run(args, startJob = startHere) {
    const seen = inRunAsked(await readPlanFile(args.positional('PLAN')), args.optional('run'));
    const plan = asAsked(seen, args.flag('bare'));
    await lightReady(plan, startJob, [plan.rack]);
    const light = potLightOf(plan);
    const pots = potRows(plan);
    if (args.flag('csv')) return table(plan, pots);
    const { shelves } = plan.rack;
    const numberOf = new Map(shelves.map((shelf) => [shelf.id, shelf.number]));
    const ranges = new Map(
      [...lightGroupsOf(plan, 'shelf'), ...lightGroupsOf(plan, 'tray')].map((group) => [
        group.ref,
        group.interval,
      ]),
    );
    return {
      ...runInResult(plan),
      ...blindedInResult(plan),
      pots,
      shelves: shelves.flatMap((shelf) => {
        const summary = light.shelves.get(shelf.id);
        const range = ranges.get(`shelf:${shelf.id}`) ?? null;
        return summary ? [{ shelf: shelf.number, ...summaryFigures(summary, range) }] : [];
      }),
      bays: shelves.flatMap((shelf) =>
        baysOf(shelf).flatMap((bay) => {
          const summary = light.bays.get(bay.id);
          const hours = bayHours(bay, plan.light);
          return summary ? [{ bay: bay.name, hours, ...summaryFigures(summary, null) }] : [];
        }),
      ),
      trays: shelves.flatMap((shelf) =>
        shelf.trays.flatMap((tray) => {
          const summary = light.trays.get(tray.id);
          const range = ranges.get(`tray:${tray.id}`) ?? null;
          return summary
            ? [{ tray: trayCode(shelf.number, tray.letter), ...summaryFigures(summary, range) }]
            : [];
        }),
      ),
      blocks: groups(plan, 'block'),
      treatments: groups(plan, 'treatment'),
      calibration: calibrations(plan),
      withheld: withheldOf(plan).map(({ reason, remedy: what_to_do, ...of }) => ({
        ...fittedCalibration(of),
        reason,
        what_to_do,
      })),
      overTrial: overTrial(plan),
      ownHeights: ownHeights(plan),
      energy: energy(plan),
      problems: Object.fromEntries(
        [...light.problems].map(([id, problem]) => [
          `shelf ${numberOf.get(id) ?? id}`,
          problem(plan.display.lengths),
        ]),
      ),
    };
  },
};

const COLUMNS = [
  'pot',
  'shelf',
  'tray',
  'x_mm',
  'y_mm',
  'ppfd_umol_m2_s',
  'dli_mol_m2_d',
  'source',
  'plus_minus_percent',
] as const;

/** A row a pot. Throws where pots would be missing: a table has no place to say why. */
function table(plan: Plan, pots: ReturnType<typeof potRows>): Text {
  for (const [shelfId, problem] of potLightOf(plan).problems) {
    const shelf = plan.rack.shelves.find(({ id }) => id === shelfId);
    if (!shelf || shelf.trays.length === 0) continue;
    throw new BatchError(
      `shelf ${shelf.number}`,
      `its light cannot be computed: ${problem(plan.display.lengths)}`,
      'a shelf whose light can be computed is expected (without --csv the other shelves are given)',
    );
  }
  const rows = pots.map((pot) => COLUMNS.map((column) => pot[column]));
  return new Text(writeDelimited([COLUMNS, ...rows], { lineEnd: '\n' }));
}

function potRows(plan: Plan) {
  const light = potLightOf(plan);
  const intervals = lightIntervalsOf(plan);
  const numberOf = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf.number]));
  return potsOf(plan).flatMap((pot) => {
    const value = light.pots.get(pot.id);
    if (!value) return [];
    const interval = intervals.get(pot.id);
    return [
      {
        pot: pot.code,
        shelf: numberOf.get(pot.shelfId) ?? null,
        tray: pot.code.split('-')[0] ?? '',
        x_mm: pot.xMm,
        y_mm: pot.yMm,
        ppfd_umol_m2_s: value.ppfdUmol,
        dli_mol_m2_d: value.dliMol,
        source: value.source,
        plus_minus_percent: value.plusMinusPercent,
        ppfd_lowest: interval?.lowest ?? null,
        ppfd_highest: interval?.highest ?? null,
      },
    ];
  });
}
