import { walkingOrder } from '../../../engine/geometry';
import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import { potsToMeasure } from '../../queries/records';
import { isBlank, textLinesOf, numberStyle, type DecimalMark } from '../../../tables';
import { valueOutcome } from './outcome';
import type { CellOutcome, CellReport, TablePreview } from './outcome';

export interface PastePreview extends Pick<TablePreview, 'cells' | 'problem'> {
  /** Lines beyond the last pot; nothing becomes of them. */
  beyond: { line: number; text: string }[];
}

/**
 * Lays a plain column of numbers over the pots of a recording grid, from one pot on in walking
 * order; an empty line skips its pot. For `toValues`, like a matched table.
 *
 * `pots`: the cells of the grid in its own order; all measured pots of the rack by default.
 */
export function pasteColumn(
  plan: Plan,
  text: string,
  to: { measurementId: string; fromPotId: string; pots?: readonly Pot[]; decimal?: DecimalMark },
): PastePreview {
  const pots = to.pots ?? walkingOrder(potsToMeasure(plan));
  const from = pots.findIndex((pot) => pot.id === to.fromPotId);
  // The line end after the last number is no empty cell.
  const lines = textLinesOf(text.replace(/(?:\r\n|\n|\r)$/, ''));
  if (from < 0) return { cells: [], beyond: [], problem: 'The pasting starts at no measured pot.' };
  const wide = lines.findIndex((line) => line.includes('\t'));
  if (wide >= 0) {
    const problem = `Line ${wide + 1} has several cells; paste one column, or a table with pot codes.`;
    return { cells: [], beyond: [], problem };
  }
  const style = numberStyle(to.decimal ?? null, lines);
  const cells: CellReport[] = [];
  const beyond: PastePreview['beyond'] = [];
  for (const [i, line] of lines.entries()) {
    const pot = pots[from + i];
    if (!pot) {
      if (!isBlank(line)) beyond.push({ line: i + 1, text: line });
      continue;
    }
    const outcome: CellOutcome = isBlank(line)
      ? { kind: 'blank' }
      : valueOutcome(plan, to.measurementId, line, pot.id, style);
    cells.push({ line: i + 1, column: 0, text: line, potId: pot.id, code: pot.code, outcome });
  }
  return { cells, beyond, problem: null };
}
