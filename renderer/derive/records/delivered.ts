import {
  deliveredMeasures,
  type Delivered,
  type DeliveredMeasure,
} from '../../../shared-types/delivered';
import type { Plan } from '../../../shared-types/plan';
import { deliveredUnits, type DeliveredUnit } from '../../document/queries/deliveredUnits';
import {
  driftBetween,
  driftFromSetting,
  toleranceOf,
  type DatedFigure,
  type Drift,
  type Setting,
} from '../../engine/delivered';
import { potLightOf } from '../light/potLight';
import { memo } from '../memo';
import { planAsGrown, standingAssignments } from '../treated';
import { alikeIn, settingsOf, type UnitSettings, type SettingsFrom } from './deliveredSettings';

/** What was logged of one measure of one unit, in order of time. */
export interface DeliveredSeries {
  unit: DeliveredUnit;
  measure: DeliveredMeasure;
  figures: readonly DatedFigure[];
  /** What the plan has for it; null: it says nothing. */
  setting: Setting | null;
  /** Away from the setting; null: it is not. */
  drift: Drift | null;
}

/** Two units that should be alike and were not, the pair of their group that lay farthest apart. */
export interface DeliveredUneven {
  measure: DeliveredMeasure;
  high: DeliveredUnit;
  low: DeliveredUnit;
  drift: Drift;
}

export interface DeliveredLog {
  series: readonly DeliveredSeries[];
  uneven: readonly DeliveredUneven[];
}

const NOTHING: DeliveredLog = { series: [], uneven: [] };

// By what it follows from alone: a value typed in the records costs no look at the log.
const settingsMemo = memo(
  (
    rack: SettingsFrom['rack'],
    flood: SettingsFrom['flood'],
    treatedRack: SettingsFrom['treatedRack'],
    factors: SettingsFrom['factors'],
    assignments: SettingsFrom['assignments'],
    photoperiodHours: number,
    potLight: SettingsFrom['potLight'],
  ) => {
    const from = { rack, flood, treatedRack, factors, assignments, photoperiodHours, potLight };
    return { from, settings: settingsOf(from) };
  },
);

const NO_FACTORS: SettingsFrom['factors'] = [];

const settingsOfPlan = (plan: Plan) => {
  const { rack, flood, trial, light } = plan;
  const grown = planAsGrown(plan);
  return settingsMemo(
    ...([rack, flood, grown.rack, trial?.factors ?? NO_FACTORS] as const),
    ...([standingAssignments(plan), light.photoperiodHours, potLightOf(grown)] as const),
  );
};

type FromPlan = ReturnType<typeof settingsOfPlan>;

const logMemo = memo((delivered: Delivered, { from, settings }: FromPlan): DeliveredLog => {
  const units = deliveredUnits(from);
  const series = deliveredMeasures.flatMap((measure) =>
    units.flatMap((unit) => seriesOf(delivered, unit, measure, settings)),
  );
  // Before the draw nothing says which units are treated alike.
  const drawn = from.factors.length === 0 || from.assignments.length > 0;
  const uneven = drawn
    ? deliveredMeasures.flatMap((measure) => {
        const own = series.filter((one) => one.measure === measure);
        const groups = alikeIn(measure, units, from);
        return [...new Set(groups.values())].flatMap((group) =>
          farthestApart(own.filter(({ unit }) => groups.get(unit.id) === group)),
        );
      })
    : [];
  return { series, uneven };
});

/** What was logged, with what the plan has for it and where it drifted. */
export function deliveredLogOf(plan: Plan): DeliveredLog {
  const { delivered } = plan.records;
  return delivered ? logMemo(delivered, settingsOfPlan(plan)) : NOTHING;
}

/** What the plan has for a unit, whether or not anything was logged. */
export const deliveredSettingOf = (
  plan: Plan,
  unitId: string,
  measure: DeliveredMeasure,
): Setting | null => settingsOfPlan(plan).settings.get(unitId)?.[measure] ?? null;

function seriesOf(
  delivered: Delivered,
  unit: DeliveredUnit,
  measure: DeliveredMeasure,
  settings: UnitSettings,
): DeliveredSeries[] {
  const figures = Object.entries(delivered[unit.id] ?? {})
    .flatMap(([date, { [measure]: value }]) => (value === undefined ? [] : [{ date, value }]))
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  if (figures.length === 0) return [];
  const setting = settings.get(unit.id)?.[measure] ?? null;
  const drift = setting && driftFromSetting(measure, figures, setting);
  return [{ unit, measure, figures, setting, drift }];
}

function farthestApart(alike: readonly DeliveredSeries[]): DeliveredUneven[] {
  const found = alike.flatMap((one, i) =>
    alike.slice(i + 1).flatMap((other): DeliveredUneven[] => {
      const { measure } = one;
      const settingsApart = apartBy(one, other);
      if (settingsApart === null) return [];
      const drift = driftBetween(measure, one.figures, other.figures, settingsApart);
      if (!drift) return [];
      if (drift.mean > drift.expected) {
        return [{ measure, high: one.unit, low: other.unit, drift }];
      }
      const turned = { ...drift, mean: drift.expected, expected: drift.mean };
      return [{ measure, high: other.unit, low: one.unit, drift: turned }];
    }),
  );
  const apart = ({ drift }: DeliveredUneven) => drift.mean - drift.expected;
  return found.sort((a, b) => apart(b) - apart(a)).slice(0, 1);
}

/** By how much the settings of two units differ; null: by more than a meter tells, on purpose. */
function apartBy({ measure, setting: a }: DeliveredSeries, { setting: b }: DeliveredSeries) {
  if (!a || !b) return a === b ? 0 : null;
  const difference = Math.abs(a.value - b.value);
  return difference <= toleranceOf(measure, (a.value + b.value) / 2) ? difference : null;
}
