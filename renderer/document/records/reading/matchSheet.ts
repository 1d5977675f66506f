import type { Plan } from '../../../../shared-types/plan';
import { cellName, isBlank, readDay, type TableSheet } from '../../../tables';
import { isOwnHead, longColumns, plainName, potColumnNames } from '../columns';
import { plural, fieldNumber } from '../../../words';
import { matchMatrix } from './matrix';
import { matchTable } from './match';
import type { TablePreview, TableQuestion } from './outcome';
import { shapeOf, type Said, type SheetShape } from './shape';
import { numberAndUnit } from '../unitFactor';

/** A sheet held against the plan; every cell of it is accounted for. */
export interface SheetPreview {
  preview: TablePreview;
  /** Its header and titles; null: a sheet that shows each tray as it stands. */
  shape: SheetShape | null;
  questions: TableQuestion[];
}

/**
 * Holds a sheet as growers keep them against the plan: with titles above its header, a header of two
 * lines, units in heads and cells, places told by shelf, tray, row and column, days in the usual forms,
 * or each tray as it stands on the rack. null: it holds no line.
 */
export function matchSheet(plan: Plan, sheet: TableSheet, now: Said = {}): SheetPreview | null {
  const said = { ...now, heads: { ...plan.tableHeads, ...now.heads } };
  const shape = shapeOf(plan, sheet, said, Object.keys(now.heads ?? {}));
  if (!shape) return null;
  const lines = matchTable(plan, shape.table, shape.uses);
  const matrix = lines.cells.length > 0 ? null : matchMatrix(plan, sheet, said);
  if (matrix) {
    const { preview, questions } = matrix;
    // What does not fit is asked about by itself.
    const others = preview.columns.length > 0 ? questionsOf(plan, preview, null) : [];
    return { preview, shape: null, questions: [...questions, ...others] };
  }
  return { preview: lines, shape, questions: questionsOf(plan, lines, shape) };
}

function questionsOf(plan: Plan, preview: TablePreview, shape: SheetShape | null): TableQuestion[] {
  const { problem, cells } = preview;
  const asked: TableQuestion[] = shape ? columnQuestions(plan, preview, shape) : [];
  if (problem !== null) {
    const found = problem.replace(/\.$/, '');
    asked.push({
      about: 'columns',
      found,
      expected: 'what its columns hold has to be said',
    });
  }
  const open = cells.flatMap((cell) =>
    cell.outcome.kind === 'two-readings' ? [{ ...cell, ...cell.outcome }] : [],
  );
  const [first] = open;
  if (first) {
    asked.push({
      about: `cell ${cellName(first.column, first.line)}`,
      found: `${first.text} can be ${first.asGrouped} or ${fieldNumber(first.asDecimal)}${more(open.length)}`,
      expected: 'the decimal mark has to be said',
    });
  }
  const odd = cells.filter(({ outcome }) => outcome.kind === 'out-of-range');
  if (odd[0]) {
    asked.push({
      about: `cell ${cellName(odd[0].column, odd[0].line)}`,
      found: `${odd[0].text} lies outside the likely range of its measurement${more(odd.length)}`,
      expected: 'a look at the value is expected',
    });
  }
  const changed = cells.flatMap(({ outcome, ...cell }) =>
    (outcome.kind === 'value' || outcome.kind === 'out-of-range') &&
    outcome.replaces !== null &&
    outcome.replaces !== outcome.value
      ? [{ ...cell, ...outcome }]
      : [],
  );
  if (changed[0]) {
    asked.push({
      about: `cell ${cellName(changed[0].column, changed[0].line)}`,
      found: `${fieldNumber(changed[0].value)} would replace the ${fieldNumber(changed[0].replaces ?? NaN)} that is recorded for ${changed[0].code}${more(changed.length)}`,
      expected: 'a look at both values is expected',
    });
  }
  return asked;
}

const more = (count: number): string => (count > 1 ? `, and ${count - 1} more like it` : '');

/** Columns that hold numbers but nothing that the plan knows, and days that can be read in two ways. */
function columnQuestions(
  plan: Plan,
  { columns, form }: TablePreview,
  shape: SheetShape,
): TableQuestion[] {
  const { table, uses, openDays, unknownHeads } = shape;
  const known = longColumns(plan, table.columns);
  const asked = unknownHeads.map((head): TableQuestion => ({
    about: `column ${head}`,
    found: 'what it was said to be is no measurement of the plan, or no column is called so',
    expected: 'the head of a column, and a measurement or a part such as pot or date, are expected',
  }));
  for (const [i, { name, use }] of columns.entries()) {
    const filled = table.rows.flatMap(({ cells }) => {
      const text = cells[i] ?? '';
      return isBlank(text) ? [] : [text.trim()];
    });
    if (openDays.includes(i)) {
      const text = filled.find((one) => readDay(one).kind === 'two') ?? filled[0] ?? '';
      asked.push({
        about: `column ${name}`,
        found: `its days, such as ${text}, can be read with the day or the month first`,
        expected: 'which of the two has to be said',
      });
    }
    const numbers = filled.filter((text) => numberAndUnit(text).digits !== '');
    const unused = use.use === 'nothing' && uses[i] === undefined && form === 'wide' && !known;
    if (
      unused &&
      numbers.length > 0 &&
      2 * numbers.length >= filled.length &&
      !isOwnHead(plan, name) &&
      !potColumnNames.has(plainName(name))
    ) {
      asked.push({
        about: `column ${name}`,
        column: i,
        found: `holds ${plural(numbers.length, 'number')}, and its head names no measurement of the plan`,
        expected: 'its measurement, or “not used”, is expected',
      });
    }
  }
  return asked;
}
