import { measurementLabel } from '../../renderer/document/queries';
import { leftOutOf, type CellReport, type SheetPreview } from '../../renderer/document/records';
import { cellName, isBlank } from '../../renderer/tables';
import type { Plan } from '../../shared-types/plan';

/** What became of each cell. */
export function recordReport(plan: Plan, { preview, shape }: SheetPreview) {
  const labels = new Map(plan.trial?.measurements.map((m) => [m.id, measurementLabel(m)]));
  const label = (id: string) => labels.get(id) ?? id;
  return {
    form: preview.form,
    decimal: preview.decimal,
    headerLines: [...(shape?.headLines ?? []), ...(shape?.repeated ?? [])],
    titles:
      shape?.titles.map(({ line, cells }) => ({ line, text: filledOf(cells).join(' ') })) ?? [],
    columns: preview.columns.map(({ name, use }, i) => ({
      name,
      takenFor: use.use === 'measurement' ? label(use.measurementId) : use.use,
      ...('unit' in use && use.unit !== undefined ? { unit: use.unit } : {}),
      ...(use.use === 'nothing' && shape
        ? { cells: shape.table.rows.filter(({ cells }) => !isBlank(cells[i] ?? '')).length }
        : {}),
    })),
    taken: preview.cells.flatMap((cell) => takenOf(cell, label)),
    leftOut: leftOutOf(preview).map(({ line, column, code, text, why }) => ({
      line,
      ...(column === null ? {} : { cell: cellName(column, line) }),
      pot: code,
      found: text,
      why,
    })),
    blank: preview.cells.filter(({ outcome }) => outcome.kind === 'blank').length,
    missingPots: preview.missingPots.map(({ code }) => code),
    otherRuns: preview.otherRuns,
  };
}

const filledOf = (cells: readonly string[]): string[] => cells.filter((text) => text.trim() !== '');

/** A value, mark or note that is taken over, and where it goes; nothing for any other cell. */
function takenOf(
  { outcome, line, column, code, text }: CellReport,
  label: (measurementId: string) => string,
): object[] {
  const at = { cell: cellName(column, line), line, pot: code, found: text };
  switch (outcome.kind) {
    case 'value':
    case 'out-of-range': {
      const { measurementId, value, replaces, day, second } = outcome;
      const was = replaces === null || replaces === value ? {} : { replaces };
      const when = day === undefined ? {} : { day };
      const who = second ? { second } : {};
      return [{ ...at, measurement: label(measurementId), value, ...was, ...when, ...who }];
    }
    case 'mark':
      return [{ ...at, mark: outcome.mark }];
    case 'note':
      return [{ ...at, note: outcome.note.text }];
    case 'blank':
    case 'no-pot':
    case 'merged':
    case 'twice':
    case 'differs':
    case 'not-a-number':
    case 'not-a-mark':
    case 'not-a-date':
    case 'two-readings':
    case 'unknown-measurement':
    case 'several-measurements':
    case 'other-unit':
      return [];
    default:
      return outcome satisfies never;
  }
}
