import { fitRequestSchema, type DataTable, type FitResult } from '../../../shared-types/fit';
import { measurementTraits, type Measurement } from '../../../shared-types/trial/measurement';
import { dateOf, daysBetween } from '../calendar';
import { fit } from '../stats/fit';
import type { FindingsInput, Question } from './question';
import { designModel } from './model/designModel';
import { factorRoles, inPlanOrder } from './model/roles';
import { seriesOf } from './refused/saturation';
import { trialTable, type TrialTable } from './table/table';
import { COLUMN } from './table/columns';
import { Refusal, sayDay } from '../../words';

/** Mean of a treatment at a date, with its interval; in the measurement's own unit. */
export interface SeriesPoint {
  date: string;
  /** Since the first date. */
  day: number;
  mean: number;
  lower: number;
  upper: number;
}

export interface Series {
  measurement: Measurement;
  dates: { date: string; day: number; measurementId: string; pots: number }[];
  /** One curve a combination of the tested factors; one in all where there are none. */
  curves: { levels: Record<string, string>; label: string; points: SeriesPoint[] }[];
  /** Each pot at each date, behind the curve of its treatment. */
  pots: { potId: string; code: string; day: number; value: number; label: string }[];
  /** On which scale the curves are straighter, and so easier to read. */
  scale: 'linear' | 'logarithmic';
  /** Whether curves run apart: the interactions with time, in the model's words. */
  terms: FitResult['terms'];
  /** Means are those of logarithms, taken back; their ratios are growth. */
  logarithms: boolean;
  method: string;
}

const DAY = 'day';

/** One date on which the thing was measured. */
interface Round {
  m: Measurement;
  date: string;
  /** Since the first. */
  day: number;
  data: TrialTable;
}

/**
 * Repeated measures of one thing at two dates or more: one model over all dates with the pot (and
 * any coarser unit) as random, date as a factor crossed with the tested factors. Positive values are
 * analysed as logarithms, for spread grows with size. null without two dates that hold values.
 * Throws where the model cannot be fitted.
 */
export function growthSeries(
  input: FindingsInput,
  measurement: Measurement,
  confidence: number,
): Series | null {
  const { trial, records } = input;
  const taken = seriesOf(trial, measurement).filter(
    (m) => Object.keys(records.values[m.id] ?? {}).length > 0,
  );
  const firstDate = taken[0] && dateOf(trial, taken[0]);
  if (taken.length < 2 || !firstDate) return null;
  const rounds = taken.map((m): Round => {
    const question: Question = { measurement: m, start: null, index: 'final', days: null };
    const date = dateOf(trial, m) ?? '';
    return {
      m,
      date,
      day: daysBetween(firstDate, date),
      data: trialTable(input, question, new Set(), []),
    };
  });
  const [base] = rounds;
  if (!base) return null;
  const twice = rounds.find(({ day }, i) => rounds.findIndex((other) => other.day === day) !== i);
  if (twice) {
    throw new Refusal(
      `${measurement.name} was measured twice on ${sayDay(twice.date)}; give each measurement its own date to see its course.`,
    );
  }
  const roles = factorRoles(base.data, trial.factors);
  const design = designModel(base.data, roles);
  const treatments = design.tested.map((role) => role.column);

  const { columns, rowCount } = stacked(rounds);
  const values = (columns[COLUMN.response] ?? []).filter((v) => typeof v === 'number');
  const logarithms = measurementTraits[measurement.kind].ratio && values.every((v) => v > 0);
  const all = [...treatments, DAY];
  const result = fit(
    fitRequestSchema.parse({
      response: COLUMN.response,
      scale: logarithms ? 'log' : 'identity',
      treatments: all,
      interactions: subsets(treatments),
      fixedBlocks: design.fixedBlocks,
      // A tray's own course over time is what a treatment laid on trays is judged by.
      randomUnits: [...design.randomUnits.flatMap((unit) => [unit, [...unit, DAY]]), [COLUMN.pot]],
      tests: 'marginal',
      denominator: 'satterthwaite',
      means: [all],
      confidence,
    }),
    { columns, rowCount },
  );
  const rows = inPlanOrder(result.means[0]?.rows ?? [], treatments, roles);
  const curves = curvesOf(rows, treatments, rounds, logarithms);
  return {
    measurement,
    dates: rounds.map(({ m, date, day, data }) => ({
      date,
      day,
      measurementId: m.id,
      pots: data.table.rowCount - data.leftOut.length,
    })),
    curves,
    pots: rounds.flatMap((round) => potsOf(round, treatments)),
    scale: logarithms && straighterByLogarithms(curves) ? 'logarithmic' : 'linear',
    terms: result.terms,
    logarithms,
    method: result.method.replace(/\bof response\b/, `of ${measurement.name}`),
  };
}

/** The tables of all dates as one, with the day as a factor. */
function stacked(rounds: readonly Round[]): DataTable {
  const names = [DAY, ...Object.keys(rounds[0]?.data.table.columns ?? {})];
  const columns: DataTable['columns'] = Object.fromEntries(names.map((name) => [name, []]));
  let rowCount = 0;
  for (const { day, data } of rounds) {
    for (const [name, cells] of Object.entries(data.table.columns)) {
      columns[name]?.push(...cells);
    }
    columns[DAY]?.push(...data.pots.map(() => String(day)));
    rowCount += data.table.rowCount;
  }
  return { columns, rowCount };
}

const labelOf = (levels: readonly string[]): string =>
  levels.length > 0 ? levels.join(' · ') : 'all pots';

function potsOf({ day, data }: Round, treatments: readonly string[]): Series['pots'] {
  const { columns } = data.table;
  return data.pots.flatMap((pot, row) => {
    const value = columns[COLUMN.response]?.[row];
    if (typeof value !== 'number') return [];
    const label = labelOf(treatments.map((t) => String(columns[t]?.[row])));
    return [{ potId: pot.id, code: pot.code, day, value, label }];
  });
}

/** Two points are straight on any scale; of more, the mean squared correlation with time decides. */
function straighterByLogarithms(curves: Series['curves']): boolean {
  const straightness = (of: (mean: number) => number) =>
    curves.reduce((sum, { points }) => {
      const [days, values] = [points.map(({ day }) => day), points.map(({ mean }) => of(mean))];
      return sum + squaredCorrelation(days, values);
    }, 0);
  if (curves.every(({ points }) => points.length < 3)) return false;
  return straightness(Math.log) > straightness((mean) => mean);
}

function squaredCorrelation(a: readonly number[], b: readonly number[]): number {
  const middle = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;
  const [ma, mb] = [middle(a), middle(b)];
  let [sab, saa, sbb] = [0, 0, 0];
  a.forEach((x, i) => {
    const y = b[i] ?? mb;
    sab += (x - ma) * (y - mb);
    saa += (x - ma) ** 2;
    sbb += (y - mb) ** 2;
  });
  return saa * sbb > 0 ? (sab * sab) / (saa * sbb) : 0;
}

/** Why the curves are drawn on their scale, for whoever reads them. */
export function seriesScaleWords({ scale, dates }: Pick<Series, 'scale' | 'dates'>): string {
  if (dates.length < 3) return 'Linear scale: between two dates every curve is straight.';
  return scale === 'logarithmic'
    ? 'Logarithmic scale: the curves are straighter on it, and equally steep means equal relative growth.'
    : 'Linear scale: the curves are straighter on it than on a logarithmic one.';
}

/** The means of each combination of treatments over time. */
function curvesOf(
  rows: FitResult['means'][number]['rows'],
  treatments: readonly string[],
  rounds: readonly Round[],
  logarithms: boolean,
): Series['curves'] {
  const curves = new Map<string, Series['curves'][number]>();
  for (const row of rows) {
    const levels = Object.fromEntries(treatments.map((t) => [t, String(row[t])]));
    const label = labelOf(Object.values(levels));
    const curve = curves.get(label) ?? { levels, label, points: [] };
    const round = rounds.find((r) => String(r.day) === String(row[DAY]));
    if (!round) continue;
    const shown = (name: 'mean' | 'lower' | 'upper', back: string) =>
      logarithms ? Number(row[back]) : Number(row[name]);
    curve.points.push({
      date: round.date,
      day: round.day,
      mean: shown('mean', 'backTransformed'),
      lower: shown('lower', 'backTransformedLower'),
      upper: shown('upper', 'backTransformedUpper'),
    });
    curves.set(label, curve);
  }
  return [...curves.values()].map((curve) => ({
    ...curve,
    points: curve.points.sort((a, b) => a.day - b.day),
  }));
}

/** Every crossing of the treatments with each other and with time. */
function subsets(treatments: readonly string[]): string[][] {
  let sets: string[][] = [[]];
  for (const name of treatments) sets = [...sets, ...sets.map((set) => [...set, name])];
  const crossed = sets.filter((set) => set.length > 0).map((set) => [...set, DAY]);
  const among = sets.filter((set) => set.length > 1);
  return [...among, ...crossed].sort((a, b) => a.length - b.length);
}
