import type { Plan } from '../../../../shared-types/plan';
import { plainName, saidUse, type ColumnUse } from '../columns';
import type { SheetPreview } from './matchSheet';
import { unitInHead } from '../unitFactor';

/** What stands for a use among the heads that a plan keeps; null: it is not worth keeping. */
function keptUse(use: ColumnUse): string | null {
  switch (use.use) {
    case 'measurement':
      return use.measurementId;
    case 'ambiguous':
      return null;
    case 'nothing':
    case 'pot':
    case 'shelf':
    case 'tray':
    case 'row':
    case 'column':
    case 'plant':
    case 'mark':
    case 'note':
    case 'date':
    case 'run':
      return use.use;
    default:
      return use satisfies never;
  }
}

/** What was said of the heads of a table and is not told by the heads themselves, for the next one. */
export function keptHeads(plan: Plan, { preview, shape }: SheetPreview): Record<string, string> {
  if (!shape) return {};
  return Object.fromEntries(
    Object.entries(shape.uses).flatMap(([column, use]) => {
      const head = preview.columns[Number(column)]?.name ?? '';
      const name = plainName(unitInHead(head)?.name ?? head);
      const kept = keptUse(use);
      const told = saidUse(plan, head) ?? saidUse(plan, name);
      const same = told !== null && keptUse(told) === kept;
      return kept === null || same || name === '' ? [] : [[name, kept] as const];
    }),
  );
}
