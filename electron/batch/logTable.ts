import { z } from 'zod';
import { logDelivered } from '../../renderer/document/commands';
import {
  entriesOf,
  keptOfLog,
  matchLog,
  type LogPreview,
  type LogSaid,
} from '../../renderer/document/delivered';
import { deliveredUnitName, deliveredUnits } from '../../renderer/document/queries';
import { cellName, type TableSheet } from '../../renderer/tables';
import { list } from '../../renderer/words';
import { deliveredTraits } from '../../shared-types/delivered';
import type { Plan } from '../../shared-types/plan';
import { BatchError } from './batchError';
import { checked, parseJson } from './inputs';
import type { VerbArguments } from './verb';
import { saidIn, theSheet } from './tableSheets';

const unitsSchema = z.record(z.string(), z.string());

/** The plan with the figures of a logger's table in its log of what was delivered, and the report. */
export function logOfTable(
  plan: Plan,
  path: string,
  sheets: readonly TableSheet[],
  args: VerbArguments,
): { plan: Plan; report: object } {
  const said = logSaid(plan, args);
  const { sheet, matched } = theSheet(path, sheets, args.optional('sheet'), {
    match: (one) => matchLog(plan, one, said),
    isUseful: ({ figures }) => figures.length > 0,
    holds: 'figures of the plan',
  });
  const { questions, figures, leftOut } = matched;
  const asked = questions.map(({ about, found, expected }) => ({ about, found, expected }));
  const [first] = asked;
  const open = questions.some(({ kind }) => kind === 'columns');
  if (first && (open || !args.flag('accept-doubtful'))) {
    const rest = asked.length > 1 ? ` (${asked.length - 1} more to be asked)` : '';
    throw new BatchError(`${path}, ${first.about}`, `${first.found}${rest}`, first.expected);
  }
  if (figures.length === 0) {
    const [reason] = leftOut;
    const found = reason ? `line ${reason.line}, ${reason.why}` : 'it holds no figure';
    throw new BatchError(path, `nothing can be logged: ${found}`, 'figures of units are expected');
  }
  const heads = keptOfLog(matched, said);
  const done = logDelivered.run(plan, { entries: entriesOf(figures), heads });
  return { plan: done, report: { sheet: sheet.name, ...reportOf(plan, matched), asked } };
}

function logSaid(plan: Plan, args: VerbArguments): LogSaid {
  const { uses: _uses, ...said } = saidIn(args);
  const option = args.optional('units');
  if (option === undefined) return said;
  const named = checked('--units', parseJson('--units', option), unitsSchema);
  const known = deliveredUnits(plan);
  const units = Object.entries(named).map(([name, words]): [string, string | null] => {
    if (words === 'not used') return [name, null];
    const unit = known.find((one) => one.name === words);
    if (unit) return [name, unit.id];
    const names = list(known.map((one) => one.name));
    throw new BatchError('--units', `found ${words}`, `expected one of ${names}, or not used`);
  });
  return { ...said, units: Object.fromEntries(units) };
}

function reportOf(plan: Plan, { shape, figures, leftOut, blank, readings, units }: LogPreview) {
  return {
    decimal: shape.decimal,
    headerLines: shape.headLines,
    columns: shape.columns.map(({ name, use }) => ({
      name,
      takenFor: use.use === 'figure' ? deliveredTraits[use.measure].name : use.use,
      ...(use.use === 'figure' && use.sign !== null ? { unit: use.sign } : {}),
    })),
    units: units.map(({ name, unitId }) => ({
      name,
      takenFor: unitId === null || unitId === undefined ? null : deliveredUnitName(plan, unitId),
    })),
    logged: figures.map(({ unitId, day, measure, was, ...figure }) => ({
      unit: deliveredUnitName(plan, unitId),
      day,
      measure,
      ...figure,
      ...(was === null || was === figure.value ? {} : { replaces: was }),
    })),
    leftOut: leftOut.map(({ line, column, text, why }) => ({
      line,
      ...(column === null ? {} : { cell: cellName(column, line) }),
      found: text,
      why,
    })),
    readings,
    blank,
  };
}
