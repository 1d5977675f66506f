import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Factor } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { dayTaken } from '../../document/queries/days';
import { measurementLabel } from '../../document/queries/names';
import { refTo } from '../../document/queries/refs';
import { daysBetween } from '../../engine/calendar';
import { trialPotsOf, unitIdOf, type TrialPot } from '../../engine/trial';
import { blockByBlock, dayLag, type DatedPlant } from '../../engine/trial/harvestDays';
import { capital, fixed, list, noticesOfStage, plural, sayDay, rounded } from '../../words';
import { appliedTrialOf, zonesOf } from '../trial/trial';

const notice = noticesOfStage('records');
const LISTED = 4;

/** A plant with its day as the plan writes it, and as a count. */
interface HarvestedPlant {
  pot: TrialPot;
  date: string;
  day: number;
  block: string;
  levels: Readonly<Record<string, string>>;
}

type Said = Pick<Notice, 'severity' | 'text' | 'remedy'> & { factorId: string | null };

/** Whether what was harvested on several days can be told from what the treatments did. */
export function harvestNotices(plan: Plan): Notice[] {
  const { days } = plan.records;
  const trial = appliedTrialOf(plan);
  if (!days || !trial || trial.factors.length === 0) return [];
  // Weight and count of one harvest share their days: what is wrong with these is said once.
  const said = new Map<string, { one: Said; measurements: Measurement[] }>();
  for (const measurement of trial.measurements) {
    if (measurement.timepoint !== 'harvest' || !days[measurement.id]) continue;
    for (const one of spreadOf(plantsOf(plan, measurement), trial.factors)) {
      const known = said.get(one.text);
      if (known) known.measurements.push(measurement);
      else said.set(one.text, { one, measurements: [measurement] });
    }
  }
  return [...said.values()].map(({ one, measurements }) =>
    notice(
      'harvest-spread',
      one.severity,
      [
        ...(one.factorId === null ? [] : [refTo('factor', one.factorId)]),
        ...measurements.map(({ id }) => refTo('measurement', id)),
      ],
      `${capital(list(measurements.map(measurementLabel)))}: ${one.text}`,
      one.remedy,
    ),
  );
}

function plantsOf(plan: Plan, measurement: Measurement): HarvestedPlant[] {
  const values = plan.records.values[measurement.id] ?? {};
  const drawn = new Map(plan.layout?.assignments.map((one) => [one.potId, one]));
  const dated = trialPotsOf(plan.rack, zonesOf(plan)).flatMap((pot) => {
    const assignment = drawn.get(pot.id);
    const date = values[pot.id] === undefined ? null : dayTaken(plan, measurement, pot.id);
    if (!assignment || date === null) return [];
    return [{ pot, date, block: assignment.block, levels: assignment.levels }];
  });
  const first = dated.map(({ date }) => date).sort()[0] ?? '';
  return dated.map((one) => ({ ...one, day: daysBetween(first, one.date) }));
}

function spreadOf(plants: readonly HarvestedPlant[], factors: readonly Factor[]): Said[] {
  const dates = [...new Set(plants.map(({ date }) => date))].sort();
  const [first, last] = [dates[0] ?? '', dates.at(-1) ?? ''];
  if (dates.length < 2) return [];
  const when = `on ${dates.length} days, ${sayDay(first)} to ${sayDay(last)}`;
  const confounded = factors.flatMap((factor): Said[] => {
    const lag = lagOf(plants, factor);
    if (lag === null) return [];
    return [
      {
        severity: 'warn',
        factorId: factor.id,
        text: `the plants were taken ${when}, and the day goes with ${factor.name}. ${lag} What differs between them may be growth between these days.`,
        remedy: `Correct the days under “This pot” where they are wrong. Else treat differences of ${factor.name} as exploratory, and harvest block after block next time.`,
      },
    ];
  });
  if (confounded.length > 0) return confounded;
  if (blockByBlock(plants)) {
    return [
      {
        severity: 'note',
        factorId: null,
        text: `the plants were taken ${when}, each block on one day. Treatments are compared within days.`,
        remedy: 'Nothing is to be done: the analysis takes out differences between blocks.',
      },
    ];
  }
  return [
    {
      severity: 'note',
      factorId: null,
      text: `the plants were taken ${when} (${countsOf(plants, dates)}). No treatment comes clearly before another, but growth between these days makes equal plants differ more.`,
      remedy: 'Harvest block after block next time, so that blocks take out what the days bring.',
    },
  ];
}

/** How the days go with the levels of a factor, in a sentence; null: they do not. */
function lagOf(plants: readonly HarvestedPlant[], factor: Factor): string | null {
  const nameOf = (id: string) => factor.levels.find((level) => level.id === id)?.name ?? id;
  const dated = plants.flatMap(({ pot, day, block, levels }): DatedPlant[] => {
    const level = levels[factor.id];
    return level === undefined ? [] : [{ day, level, block, unit: unitIdOf(pot, factor.unit) }];
  });
  const lag = dayLag(dated);
  if (lag === null) return null;
  switch (lag.kind) {
    case 'later': {
      const days = fixed(lag.days, 1);
      return `${capital(nameOf(lag.late))} was taken ${days} ${rounded(lag.days, 1) === 1 ? 'day' : 'days'} later on average than ${nameOf(lag.early)}.`;
    }
    case 'alone': {
      const date = plants.find(({ day }) => day === lag.day)?.date ?? '';
      return `${capital(nameOf(lag.level))} alone was taken on ${sayDay(date)}.`;
    }
  }
}

function countsOf(plants: readonly HarvestedPlant[], dates: readonly string[]): string {
  const named = dates.slice(0, LISTED).map((date) => {
    const count = plants.filter((plant) => plant.date === date).length;
    return `${plural(count, 'plant')} on ${sayDay(date)}`;
  });
  const more = dates.length - named.length;
  return list(more > 0 ? [...named, `more on ${plural(more, 'other day')}`] : named);
}
