import { deliveredTraits, type DeliveredMeasure } from '../../../shared-types/delivered';
import { cellName, isBlank, readDay } from '../../tables';
import { list, plural, fieldNumber } from '../../words';
import type { DayFigure } from './daily';
import { headWords, isBeside } from './logHeads';
import type { LogCells } from './logReadings';
import type { LogColumn, LogShape } from './logShape';

/** What the log would take, and what stands there now. */
export interface LogFigure extends DayFigure {
  was: number | null;
}

/** A unit as the table calls it. */
export interface NamedUnit {
  /** '' where neither line nor head names one. */
  name: string;
  /** Cells that are of it. */
  cells: number;
  /** null: not used; undefined: the rack has none of this name. */
  unitId: string | null | undefined;
}

/** What only a person can answer. */
export interface LogQuestion {
  /** `replaced` is answered by taking over; all others are answered first. */
  kind: 'columns' | 'column' | 'days' | 'decimal' | 'unit' | 'replaced';
  about: string;
  found: string;
  expected: string;
  /** Counted from 0. */
  column?: number;
}

export function logQuestions(
  shape: LogShape,
  cells: LogCells,
  figures: readonly LogFigure[],
  named: readonly NamedUnit[],
): LogQuestion[] {
  return [
    ...missingColumns(shape),
    ...shape.columns.flatMap((column, at) => aboutColumn(shape, column, at)),
    ...twiceGiven(shape),
    ...daysAsked(shape),
    ...named.flatMap(({ name, unitId, cells: count }): LogQuestion[] => {
      if (unitId !== undefined) return [];
      const called = name === '' ? 'lines without a unit' : `unit ${name}`;
      return [
        {
          kind: 'unit',
          about: called,
          found: `${plural(count, 'figure')} of it`,
          expected: 'a reservoir, shelf, bay or tray of the rack, or “not used”, is expected',
        },
      ];
    }),
    ...decimalAsked(cells),
    ...replacedAsked(figures),
  ];
}

function missingColumns({ columns }: LogShape): LogQuestion[] {
  const has = (use: LogColumn['use']['use']) => columns.some((column) => column.use.use === use);
  const asked = (found: string, expected: string): LogQuestion => ({
    kind: 'columns',
    about: 'columns',
    found,
    expected,
  });
  return [
    ...(has('day') ? [] : [asked('none holds the day', 'a column of dates is expected')]),
    ...(has('figure') || (has('measure') && has('value'))
      ? []
      : [
          asked(
            'none holds EC, pH, temperature, lamp hours or PPFD',
            'what its columns hold has to be said',
          ),
        ]),
  ];
}

/** Beyond these most readings are of another unit: lux for PPFD, °F for °C, µS/cm for mS/cm. */
const LIKELY: Record<DeliveredMeasure, readonly [number, number]> = {
  ec: [0, 12],
  ph: [2, 12],
  temperature: [-5, 45],
  hours: [0, 24],
  ppfd: [0, 2500],
};
const LOOKED_AT = 500;

function aboutColumn(shape: LogShape, column: LogColumn, at: number): LogQuestion[] {
  const { name, use, said, foreign } = column;
  const asked = (found: string, expected: string): LogQuestion[] => [
    { kind: 'column', about: `column ${name}`, column: at, found, expected },
  ];
  const numbers = numbersIn(shape, at);
  if (use.use === 'figure') {
    const { name: called, unit } = deliveredTraits[use.measure];
    if (foreign !== null) {
      return asked(`${called} cannot be told from ${foreign}`, UNIT_EXPECTED);
    }
    const [lowest, highest] = LIKELY[use.measure];
    const odd = numbers.filter((value) => value < lowest || value > highest);
    if (use.sign !== null && use.sign !== '') return [];
    if (said || 2 * odd.length <= numbers.length) return [];
    return asked(
      `${fieldNumber(odd[0] ?? NaN)} is an unlikely ${called} in ${unit || 'its unit'}`,
      UNIT_EXPECTED,
    );
  }
  if (use.use === 'value' && !shape.columns.some((other) => other.use.use === 'measure')) {
    return asked('no column says of what its figures are', 'what it holds is expected');
  }
  if (use.use !== 'nothing' || said || numbers.length === 0 || isBeside(name)) return [];
  const { measure, extreme } = headWords(name);
  const mean = shape.columns.some(
    (other) => other.use.use === 'figure' && other.use.measure === measure,
  );
  if (extreme && mean) return [];
  return asked(
    `holds ${plural(numbers.length, 'number')}, and its head says nothing that is logged`,
    'what it holds, or “not used”, is expected',
  );
}

const UNIT_EXPECTED = 'its unit has to be said';

/** The first numbers of a column, whatever their decimal mark. */
function numbersIn({ rows }: LogShape, at: number): number[] {
  return rows.slice(0, LOOKED_AT).flatMap(({ cells }) => {
    const text = cells[at]?.trim() ?? '';
    const value = parseFloat(text.replace(',', '.'));
    return isBlank(text) || !Number.isFinite(value) || readDay(text).kind !== 'none' ? [] : [value];
  });
}

/** Two columns that would give the same figure. */
function twiceGiven({ columns }: LogShape): LogQuestion[] {
  const givers = new Map<string, string[]>();
  for (const { name, use } of columns) {
    if (use.use !== 'figure') continue;
    const key = `${use.measure} ${use.name}`;
    givers.set(key, [...(givers.get(key) ?? []), name]);
  }
  return [...givers.values()].flatMap((names): LogQuestion[] =>
    names.length < 2
      ? []
      : [
          {
            kind: 'column',
            about: `columns ${list(names)}`,
            found: 'give the same measure of the same unit',
            expected: 'one of them, the others “not used”, is expected',
            column: columns.findIndex(({ name }) => name === names[1]),
          },
        ],
  );
}

function daysAsked({ columns, rows, openDays }: LogShape): LogQuestion[] {
  const at = columns.findIndex(({ use }) => use.use === 'day');
  if (!openDays || at < 0) return [];
  const texts = rows.map(({ cells }) => cells[at] ?? '');
  const text = texts.find((one) => readDay(one).kind === 'two') ?? '';
  return [
    {
      kind: 'days',
      about: `column ${columns[at]?.name ?? ''}`,
      found: `its days, such as ${text.trim()}, can be read with the day or the month first`,
      expected: 'which of the two has to be said',
    },
  ];
}

function decimalAsked({ twoReadings }: LogCells): LogQuestion[] {
  const [first] = twoReadings;
  if (!first) return [];
  const { text, asDecimal, asGrouped, column, line } = first;
  return [
    {
      kind: 'decimal',
      about: `cell ${cellName(column, line)}`,
      found: `${text} can be ${asGrouped} or ${asDecimal}${more(twoReadings.length)}`,
      expected: 'the decimal mark has to be said',
    },
  ];
}

function replacedAsked(figures: readonly LogFigure[]): LogQuestion[] {
  const changed = figures.filter(({ was, value }) => was !== null && was !== value);
  const [first] = changed;
  if (!first) return [];
  const { name } = deliveredTraits[first.measure];
  return [
    {
      kind: 'replaced',
      about: `${name} of ${first.day}`,
      found: `${first.value} would replace the ${first.was ?? ''} that is logged${more(changed.length)}`,
      expected: 'a look at both is expected',
    },
  ];
}

const more = (count: number): string => (count > 1 ? `, and ${count - 1} more like it` : '');
