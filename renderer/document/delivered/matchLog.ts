import { deliveredTraits } from '../../../shared-types/delivered';
import type { Plan } from '../../../shared-types/plan';
import type { TableSheet } from '../../tables';
import { dateOf } from '../../engine/calendar';
import { deliveredUnits, type DeliveredUnit } from '../queries/deliveredUnits';
import { plainHead, type LogUse } from './logHeads';
import { dailyFigures } from './daily';
import { logQuestions, type LogFigure, type LogQuestion, type NamedUnit } from './logQuestions';
import { logReadings, type FindUnit, type LogLeftOut } from './logReadings';
import { logShape, spokenUse, type LogSaid, type LogShape } from './logShape';
import { plainUnit, unitFinder } from './unitNames';

/** A logger's table held against the plan, before anything is taken over. */
export interface LogPreview {
  shape: LogShape;
  figures: LogFigure[];
  /** Numbers that the figures were made of. */
  readings: number;
  leftOut: LogLeftOut[];
  blank: number;
  units: NamedUnit[];
  questions: LogQuestion[];
}

/**
 * Holds a logger's sheet against the plan: a line a reading or a day, a column a measure, a measure of a
 * unit, or one for all with the measure named in each line. null: it holds no line.
 */
export function matchLog(plan: Plan, sheet: TableSheet, now: LogSaid = {}): LogPreview | null {
  const said = withKept(plan, now);
  const units = deliveredUnits(plan);
  const byName = unitFinder(units);
  const subject = {
    isExpected: daysOfTrial(plan),
    isUnit: (name: string) => byName(name) !== null,
  };
  const shape = logShape(sheet, said, subject);
  if (!shape) return null;
  const find = unitSaid(said, byName, [sheet.name, ...titlesOf(shape)], units);
  const cells = logReadings(shape, find);
  const daily = dailyFigures(cells.readings);
  const delivered = plan.records.delivered ?? {};
  const figures = daily.figures.map((one): LogFigure => {
    const was = delivered[one.unitId]?.[one.day]?.[one.measure] ?? null;
    return { ...one, was };
  });
  const named = [...cells.named].map(([name, count]): NamedUnit => ({
    name,
    cells: count,
    unitId: find(name, headOfUnits(shape)),
  }));
  return {
    shape,
    figures,
    units: named,
    blank: cells.blank,
    readings: figures.reduce((sum, { readings }) => sum + readings, 0),
    leftOut: [...cells.leftOut, ...daily.leftOut].sort((a, b) => a.line - b.line),
    questions: [...headsAsked(shape, now), ...logQuestions(shape, cells, figures, named)],
  };
}

/** Heads that were assigned to what is not logged, or that the table does not have. */
function headsAsked({ columns }: LogShape, { heads = {} }: LogSaid): LogQuestion[] {
  const known = columns.map(({ name }) => plainHead(name));
  return Object.entries(heads).flatMap(([head, words]): LogQuestion[] =>
    known.includes(plainHead(head)) && spokenUse(words, head) !== null
      ? []
      : [
          {
            kind: 'columns',
            about: `column ${head}`,
            found: 'what it was said to be is not logged, or no column is called so',
            expected:
              'the head of a column, and EC, pH, temperature, hours, PPFD, date or unit, are expected',
          },
        ],
  );
}

const titlesOf = ({ titles }: LogShape): string[] => titles.flatMap(({ cells }) => [...cells]);

function headOfUnits({ columns }: LogShape): string | undefined {
  const own = columns.filter(({ use }) => use.use === 'unit');
  return own.length === 1 ? own[0]?.name : undefined;
}

/** Names as a person assigned them, else as the rack has them; lines without one by a title. */
function unitSaid(
  { units: assigned = {} }: LogSaid,
  byName: ReturnType<typeof unitFinder>,
  titles: readonly string[],
  units: readonly DeliveredUnit[],
): FindUnit {
  const own = new Map(Object.entries(assigned).map(([name, id]) => [plainUnit(name), id]));
  const ids = new Set(units.map(({ id }) => id));
  const titled = new Set(titles.flatMap((text) => byName(text)?.id ?? []));
  const ofAll = titled.size === 1 ? [...titled][0] : undefined;
  const found = new Map<string, string | null | undefined>();
  const look: FindUnit = (name, head) => {
    const given = own.get(plainUnit(name));
    if (given === null || (given !== undefined && ids.has(given))) return given;
    return byName(name, head)?.id ?? (name === '' ? ofAll : undefined);
  };
  // Tens of thousands of lines name a handful of units.
  return (name, head = '') => {
    const key = `${head}\n${name}`;
    if (!found.has(key)) found.set(key, look(name, head));
    return found.get(key);
  };
}

/** From planting to the last measurement: which of two readings of a day may be meant. */
function daysOfTrial({ trial, layout }: Plan): (day: string) => boolean {
  const dates = [
    ...(trial?.measurements.flatMap((measurement) => dateOf(trial, measurement) ?? []) ?? []),
    ...(layout?.plantedAt ? [layout.plantedAt] : []),
  ].sort();
  const [from, to] = [dates[0], dates.at(-1)];
  return (day) => from !== undefined && to !== undefined && from <= day && day <= to;
}

/** What an earlier table of the same logger was told. */
function withKept({ tableHeads = {} }: Plan, now: LogSaid): LogSaid {
  const kept = (prefix: string) =>
    Object.entries(tableHeads).flatMap(([key, words]) =>
      key.startsWith(prefix) ? [[key.slice(prefix.length), words] as const] : [],
    );
  const units = kept(UNIT_KEY).map(([name, id]) => [name, id === NOT_USED ? null : id] as const);
  return {
    ...now,
    heads: { ...Object.fromEntries(kept(HEAD_KEY)), ...now.heads },
    units: { ...Object.fromEntries(units), ...now.units },
  };
}

/** What was said of a table and is kept for the next, as heads of the plan. */
export function keptOfLog(
  { shape, units }: LogPreview,
  { uses = {}, units: assigned = {} }: LogSaid,
): Record<string, string> {
  const columns = shape.columns.flatMap(({ name, use }, i) => {
    const words = uses[i] ? useWords(use) : null;
    const head = plainHead(name);
    return words === null || head === '' ? [] : [[`${HEAD_KEY}${head}`, words] as const];
  });
  const own = new Map(Object.entries(assigned));
  // Lines that name no unit are another table's next time.
  const named = units.flatMap(({ name }) => {
    const id = own.get(name);
    return name === '' || id === undefined ? [] : [[`${UNIT_KEY}${name}`, id ?? NOT_USED] as const];
  });
  return Object.fromEntries([...columns, ...named].filter(([key]) => key.length <= MOST_SIGNS));
}

/** A use as `spokenUse` reads it. */
function useWords(use: LogUse): string | null {
  if (use.use === 'nothing') return 'not used';
  if (use.use !== 'figure') return use.use === 'day' ? 'date' : use.use;
  const { measure, sign, name } = use;
  return [deliveredTraits[measure].name, sign ?? '', name].filter(Boolean).join(', ');
}

const MOST_SIGNS = 200;
const HEAD_KEY = 'log column ';
const UNIT_KEY = 'log unit ';
const NOT_USED = 'not used';
