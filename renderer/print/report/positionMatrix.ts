import {
  cannotJudge,
  differenceShown,
  judges,
  positionHeads,
  sensitivityOf,
  type Findings,
  type SensitivityCell,
  type SensitivityRow,
} from '../../engine/findings';
import { intervalWords, shown, words, type ReportCell, type FindingsTable } from './cells';
import { againstAnswer, AS_WITHOUT } from './positionTables';
import { asInterval, list, saidRange } from '../../words';

/**
 * Does the answer hold? Each pair of levels under each position model, the one that answers first:
 * estimate, interval, and a mark where a model says otherwise. null where there is one model only.
 */
export function positionMatrix(
  findings: Findings,
  rows: readonly SensitivityRow[] = sensitivityOf(findings),
): FindingsTable | null {
  const { positions, primary } = findings;
  if (positions.length < 2 || rows.length === 0) return null;
  const heads = positionHeads(findings);
  const others = positions.filter(({ model }) => model !== primary.model);
  const models = [primary, ...others].map(({ model }) => model);
  const as = shown(findings);
  return {
    name: 'position matrix',
    caption:
      `Does the answer hold? ${as.many} in ${findings.response.name}${as.unit}, with ` +
      `${intervalWords(findings)}s, under each way of correcting for place`,
    columns: [
      { head: 'Pair' },
      ...models.map((model) => ({
        head: heads[model],
        ...(model === primary.model ? { unit: 'gives the result' } : {}),
        numeric: true,
      })),
    ],
    rows: rows.map((row) => [
      { ...words(`${row.factor}: ${row.label}`), under: holdsWords(row) },
      ...models.map((model): ReportCell => {
        const cell = row.cells.find((c) => c.model === model);
        if (cell) return matrixCell(findings, cell);
        return row.unable.includes(model) ? words(AS_WITHOUT) : { text: '–', value: null };
      }),
    ]),
  };
}

/** What the signs of the matrix mean, and what place cannot tell. */
export function matrixWords(findings: Findings): string[] {
  const blind = findings.design.tested.filter((role) =>
    findings.positions.some(({ model }) => !judges(model, role)),
  );
  return [
    'Bold: a difference is clear. ≠: this model says otherwise than the one that gives the result.',
    ...(blind.length > 0
      ? [
          `As without: place within units ${list(blind.map(cannotJudge))}. Its figures are those without correction for place.`,
        ]
      : []),
  ];
}

function holdsWords({ cells }: SensitivityRow): string {
  const changed = cells.filter(({ changes }) => changes !== null).length;
  if (cells.length < 2) return '';
  if (changed === 0) return `holds under ${cells.length === 2 ? 'both' : `all ${cells.length}`}`;
  return cells.length === 2
    ? 'changes under the other'
    : `changes under ${changed} of ${cells.length - 1} others`;
}

function matrixCell(findings: Findings, cell: SensitivityCell): ReportCell {
  const as = (value: number) => differenceShown(findings, value);
  const [estimate, lower, upper] = [as(cell.estimate), as(cell.lower), as(cell.upper)];
  return {
    text: asInterval(lower, upper)(estimate),
    value: estimate,
    strong: cell.shown,
    under: saidRange(lower, upper),
    ...(cell.changes === null ? {} : { mark: `≠ ${againstAnswer(cell)}` }),
  };
}
