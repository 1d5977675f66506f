import type { Plan } from '../../shared-types/plan';
import {
  calibrationsOf,
  lightAtOwnHeightsOf,
  lightEnergyOf,
  lightGroupsOf,
  lightOverTrialOf,
  potsOf,
  trialDaysOf,
  type GroupedBy,
  type Interval,
  type LightGroup,
} from '../../renderer/derive';
import { slipWords, type Evenness, type LightSummary } from '../../renderer/engine/light';

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

export function summaryFigures(summary: LightSummary, range: Interval | null) {
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

export function groups(plan: Plan, by: Extract<GroupedBy, 'block' | 'treatment'>) {
  return lightGroupsOf(plan, by).map((group: LightGroup) => ({
    [by]: group.name,
    source: group.source,
    ...evennessFigures(group.evenness),
    ...rangeFigures(group.interval),
  }));
}

export const calibrations = (plan: Plan) => calibrationsOf(plan).map(fittedCalibration);

/** What readings say of a shelf, whether it is followed or withheld. */
export function fittedCalibration({
  shelfNumber,
  calibration,
}: ReturnType<typeof calibrationsOf>[number]) {
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
export function overTrial(plan: Plan) {
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
export function ownHeights(plan: Plan) {
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
export function energy(plan: Plan) {
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
