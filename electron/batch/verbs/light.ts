import type { Plan } from '../../../shared-types/plan';
import {
  calibrationsOf,
  lightAtOwnHeightsOf,
  lightEnergyOf,
  lightGroupsOf,
  lightIntervalsOf,
  lightOverTrialOf,
  potLightOf,
  potsOf,
  trialDaysOf,
  withheldOf,
  type GroupedBy,
  type Interval,
  type LightGroup,
} from '../../../renderer/derive';
import { writeDelimited } from '../../../renderer/tables';
import { baysOf, trayCode } from '../../../renderer/engine/geometry';
import {
  bayHours,
  slipWords,
  type Evenness,
  type LightSummary,
} from '../../../renderer/engine/light';
import { BatchError } from '../batchError';
import { asAsked, blindedInResult } from '../asAsked';
import { readPlanFile } from '../inputs';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { Text, type Verb } from '../verb';

export const lightVerb: Verb = {
  name: 'light',
  gives:
    'PPFD and DLI at every pot with its ± (95 %); evenness by shelf, bay, tray, block and treatment; calibration; energy; ' +
    'light over the trial where trays are moved. Of the rack as treated where there is a layout; --bare, and while the trial is blinded: as drawn.',
  takes: ['PLAN'],
  options: { csv: 'flag', bare: 'flag', ...runOption },
  async run(args) {
    const plan = asAsked(
      inRunAsked(await readPlanFile(args.positional('PLAN')), args.optional('run')),
      args.flag('bare'),
    );
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
        return summary ? [{ shelf: shelf.number, ...figures(summary, range) }] : [];
      }),
      bays: shelves.flatMap((shelf) =>
        baysOf(shelf).flatMap((bay) => {
          const summary = light.bays.get(bay.id);
          const hours = bayHours(bay, plan.light);
          return summary ? [{ bay: bay.name, hours, ...figures(summary, null) }] : [];
        }),
      ),
      trays: shelves.flatMap((shelf) =>
        shelf.trays.flatMap((tray) => {
          const summary = light.trays.get(tray.id);
          const range = ranges.get(`tray:${tray.id}`) ?? null;
          return summary
            ? [{ tray: trayCode(shelf.number, tray.letter), ...figures(summary, range) }]
            : [];
        }),
      ),
      blocks: groups(plan, 'block'),
      treatments: groups(plan, 'treatment'),
      calibration: calibrations(plan),
      withheld: withheldOf(plan).map(({ reason, remedy: what_to_do, ...of }) => ({
        ...fitted(of),
        ...{ reason, what_to_do },
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

function evennessFigures(e: Evenness | null) {
  return {
    pots: e?.n ?? 0,
    mean: e?.mean ?? null,
    min: e?.min ?? null,
    max: e?.max ?? null,
    min_to_mean: e?.minToMean ?? null,
    min_to_max: e?.minToMax ?? null,
    cv_percent: e?.cvPercent ?? null,
    share_within_10_percent: e?.shareWithin10Percent ?? null,
  };
}

function rangeFigures(range: Interval | null) {
  return { mean_lowest: range?.lowest ?? null, mean_highest: range?.highest ?? null };
}

function figures(summary: LightSummary, range: Interval | null) {
  const { evenness, withoutGuards } = summary;
  return {
    height_mm: summary.heightMm,
    source: summary.source,
    ...evennessFigures(evenness),
    ...rangeFigures(range),
    without_guards:
      withoutGuards && withoutGuards.n !== evenness?.n ? evennessFigures(withoutGuards) : null,
    plus_minus_percent: summary.uncertainty.plusMinusPercent,
    plus_minus_because: summary.uncertainty.reason('metric'),
  };
}

function groups(plan: Plan, by: Extract<GroupedBy, 'block' | 'treatment'>) {
  return lightGroupsOf(plan, by).map((group: LightGroup) => ({
    [by]: group.name,
    source: group.source,
    ...evennessFigures(group.evenness),
    ...rangeFigures(group.interval),
  }));
}

const calibrations = (plan: Plan) => calibrationsOf(plan).map(fitted);

/** What readings say of a shelf, whether it is followed or withheld. */
function fitted({ shelfNumber, calibration }: ReturnType<typeof calibrationsOf>[number]) {
  return {
    shelf: shelfNumber,
    factors: calibration.scales.map(({ group, scale }) => ({ group, factor: scale })),
    groups_told_apart: calibration.separate,
    surface: calibration.surface,
    readings_used: calibration.used,
    carried_over: calibration.carried,
    rms_percent: calibration.rmsPercent,
    left_out_error_percent: calibration.leftOutPercent,
    readings: calibration.readings.map((reading) => ({
      reading: reading.readingId,
      measured: reading.measuredUmol,
      estimated: reading.estimatedUmol,
      calibrated: reading.calibratedUmol,
      off_percent: reading.residualPercent,
      outlier: reading.outlier,
      looks_like: reading.slip === null ? null : slipWords[reading.slip],
      unusable: reading.unusable,
    })),
  };
}

/** With the plan's rota and heights; null where it has no rota and no height was recorded. */
function overTrial(plan: Plan) {
  const found = lightOverTrialOf(plan);
  if (!found) return null;
  if (!found.ok) return { problem: found.reason };
  const { days, heights, pots, still, rotated } = found.value;
  return {
    days,
    canopy: heights,
    as_drawn: evennessFigures(still),
    with_rota: evennessFigures(rotated),
    pots: potsOf(plan).flatMap(({ id, code }) => {
      const pot = pots.get(id);
      if (!pot) return [];
      return [
        {
          pot: code,
          ppfd_umol_m2_s: pot.ppfdUmol,
          dli_mol_m2_d: pot.dliMol,
          ppfd_lowest: pot.lowestUmol,
          ppfd_highest: pot.highestUmol,
        },
      ];
    }),
  };
}

/** At the plants' own heights, with the shade of taller neighbours; null where all are of one height. */
function ownHeights(plan: Plan) {
  const found = lightAtOwnHeightsOf(plan);
  if (!found) return null;
  return {
    measurement: found.recorded?.name ?? null,
    date: found.recorded?.date ?? null,
    pots: potsOf(plan).flatMap(({ id, code }) => {
      const own = found.pots.get(id);
      if (!own) return [];
      return [
        {
          pot: code,
          height_mm: own.heightMm,
          ppfd_umol_m2_s: own.openUmol,
          ppfd_at_canopy: own.canopyUmol,
          shaded_share: own.shadedShare,
          shaded_share_lowest: own.shadedLowest,
          shaded_share_highest: own.shadedHighest,
          neighbours_taller_mm: own.tallerByMm,
        },
      ];
    }),
  };
}

/** Over the dated trial, or over one day where it has no dates. */
function energy(plan: Plan) {
  const found = lightEnergyOf(plan, trialDaysOf(plan) ?? 1);
  if (!found.ok) return { problem: found.reason };
  const { days, powerW, kwhPerDay, kwhTotal, costPerDay, costTotal, shelves } = found.value;
  const numberOf = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf.number]));
  return {
    days,
    power_w: powerW,
    kwh_per_day: kwhPerDay,
    kwh_total: kwhTotal,
    cost_per_day: costPerDay,
    cost_total: costTotal,
    currency: plan.light.currency,
    shelves: shelves.map((shelf) => ({
      shelf: numberOf.get(shelf.shelfId) ?? null,
      kwh_per_day: shelf.kwhPerDay,
      kwh_total: shelf.kwhTotal,
      mol_per_day: shelf.molPerDay,
      mol_per_kwh: shelf.molPerKwh,
      share_on_trays: shelf.shareOnTrays,
      share_on_pots: shelf.shareOnPots,
    })),
  };
}
