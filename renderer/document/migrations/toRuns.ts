import type { MigrationStep, RawPlan } from './migrate';

/** Keys that the second format calls otherwise, wherever they stand in these parts of a plan. */
const renamed = {
  flood: { heelL: 'deadVolumeL', crestMm: 'floodDepthMm' },
  trial: {
    moment: 'timepoint',
    primaryMeasurementId: 'primaryOutcomeId',
    ruleFixed: 'analysisLocked',
  },
} as const;

const kinds: Readonly<Record<string, string>> = { assigned: 'randomised', given: 'fixed' };

/**
 * From the first format to the second: what belongs to one run (dates, layout, plants, records) goes
 * under it, and some keys take the names of the field. Nothing changes its meaning: how a factor is
 * applied was not asked before, and stays unsaid.
 */
export const toRuns: MigrationStep = {
  from: 1,
  change: 'dates, layout and records under their run',
  migrate(raw) {
    const { layout, plants, records, ...shared } = raw;
    const trial = isGroup(raw['trial']) ? raw['trial'] : null;
    const measurements = groupsOf(trial?.['measurements']);
    const dates = measurements.flatMap(({ id, date }) =>
      typeof id === 'string' && date !== null && date !== undefined ? [[id, date] as const] : [],
    );
    const run = {
      id: 'run0',
      startDate: trial?.['startDate'] ?? null,
      harvestDate: trial?.['harvestDate'] ?? null,
      measurementDates: Object.fromEntries(dates),
      layout,
      ...(plants === undefined ? {} : { plants }),
      records,
    };
    return {
      ...shared,
      flood: isGroup(raw['flood']) ? floodOf(raw['flood']) : raw['flood'],
      trial: trial ? trialOf(trial) : raw['trial'],
      runs: [run],
    };
  },
  placeBefore(place) {
    const names = Object.entries({ ...renamed.flood, ...renamed.trial });
    return names.reduce(
      (text, [before, now]) => text.replaceAll(new RegExp(`\\.${now}\\b`, 'g'), `.${before}`),
      place
        .replace(/^runs\[0\]\.(startDate|harvestDate)$/, 'trial.$1')
        .replace(/^runs\[0\]\./, '')
        .replace(/(contrasts\[\d+\])\.preSpecified$/, '$1.fixed'),
    );
  },
};

const floodOf = (raw: RawPlan): RawPlan => ({
  ...raw,
  zones: eachGroup(raw['zones'], (zone) => named(zone, renamed.flood)),
});

function trialOf(raw: RawPlan): RawPlan {
  const { startDate, harvestDate, ...rest } = raw;
  return {
    ...named(rest, renamed.trial),
    measurements: eachGroup(rest['measurements'], ({ date, ...own }) => named(own, renamed.trial)),
    factors: eachGroup(rest['factors'], factorOf),
  };
}

function factorOf(raw: RawPlan, i: number): RawPlan {
  const { kind, contrasts } = raw;
  const now = typeof kind === 'string' ? kinds[kind] : undefined;
  if (now === undefined) {
    throw new Error(
      `trial.factors[${i}].kind: found ${JSON.stringify(kind) ?? 'nothing'}, expected "assigned" or "given"`,
    );
  }
  const planned = eachGroup(contrasts, ({ fixed, ...own }) =>
    fixed === undefined ? own : { ...own, preSpecified: fixed },
  );
  return { ...raw, kind: now, ...(contrasts === undefined ? {} : { contrasts: planned }) };
}

/** What does not fit is left for the schema to name. */
const named = (group: RawPlan, names: Readonly<Record<string, string>>): RawPlan =>
  Object.fromEntries(Object.entries(group).map(([key, value]) => [names[key] ?? key, value]));

const isGroup = (value: unknown): value is RawPlan =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const groupsOf = (value: unknown): RawPlan[] =>
  Array.isArray(value) ? value.filter((item) => isGroup(item)) : [];

/** A list with each group in it changed; anything else stays as it is. */
const eachGroup = (value: unknown, change: (group: RawPlan, i: number) => RawPlan): unknown =>
  Array.isArray(value)
    ? value.map((item: unknown, i) => (isGroup(item) ? change(item, i) : item))
    : value;
