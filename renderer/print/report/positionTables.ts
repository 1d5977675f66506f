import {
  judges,
  modelsNeighbours,
  POSITION_TERMS,
  positionWords,
  sensitivityOf,
  type Effect,
  type Findings,
  type SensitivityCell,
  type SensitivityRow,
} from '../../engine/findings';
import { positionModelLabels } from '../../../shared-types/trial/position';
import { p, intervalWords, shown, words, type ReportCell, type FindingsTable } from './cells';
import { fixed, list, said, saidP } from '../../words';

/** In place of figures that a way of allowing for place within units leaves as they are. */
export const AS_WITHOUT = 'as without';

/** The answer under every way of allowing for position: likeness left, criterion, each verdict. */
export function positionTable(findings: Findings): FindingsTable {
  const { tested } = findings.design;
  const names = positionWords(findings);
  const note = missingWords(findings);
  return {
    name: 'position models',
    ...(note === '' ? {} : { note }),
    caption: 'The same question under every way of correcting for place',
    columns: [
      { head: 'Correction for place' },
      ...tested.map((role) => ({ head: `${role.factor.name}: p`, numeric: true })),
      { head: 'Moran’s I', unit: 'side by side', numeric: true },
      { head: 'Moran’s I', unit: 'corners too', numeric: true },
      { head: 'AIC', unit: 'does not choose', numeric: true },
    ],
    rows: findings.positions.map((position) => [
      words(
        `${names[position.model]} (${POSITION_TERMS[position.model]})` +
          (position.model === findings.primary.model ? ', gives the result' : ''),
      ),
      ...tested.map((role): ReportCell => {
        const term = position.result.terms.find((t) => t.term === role.column);
        const judged = judges(position.model, role) || position === findings.primary;
        return judged ? p(term?.p, findings.alpha) : words(AS_WITHOUT);
      }),
      moranCell(position.rook, findings.alpha),
      moranCell(position.queen, findings.alpha),
      criterionCell(position.information?.aic ?? null),
    ]),
    marked: findings.positions.indexOf(findings.primary),
  };
}

/** Why a model has no Moran’s I or no AIC; empty where all have. */
function missingWords({ positions, placed }: Findings): string {
  const within = positions.filter(({ model }) => modelsNeighbours(model));
  return [
    ...(placed && within.length > 0
      ? [
          `No Moran’s I under ${list(within.map(({ model }) => `“${positionModelLabels[model]}”`))}: that model already contains what Moran’s I looks for.`,
        ]
      : []),
    ...(positions.some(({ information }) => !information)
      ? ['A dash under AIC: the fit of that model gives no AIC that compares with the others.']
      : []),
  ].join(' ');
}

function criterionCell(aic: number | null): ReportCell {
  return { text: aic === null ? '–' : fixed(aic, 1), value: aic };
}

function moranCell(likeness: { i: number; p: number } | null, alpha: number): ReportCell {
  if (!likeness) return { text: '–', value: null };
  return { text: `${said(likeness.i, '', 2)} (${saidP(likeness.p, alpha)})`, value: likeness.i };
}

/** Words that stand in the first row of their group only, and in every row of a file. */
const onceOnly = (text: string, row: number): ReportCell => ({
  text: row === 0 ? text : '',
  value: text,
});

/** Every difference with its interval under each position model. */
export function sensitivityTable(
  findings: Findings,
  rows: readonly SensitivityRow[] = sensitivityOf(findings),
): FindingsTable {
  const as = shown(findings);
  const names = positionWords(findings);
  return {
    name: 'position differences',
    caption: `${as.many} in ${findings.response.name}${as.unit}, with ${intervalWords(findings)}s, under each way of correcting for place`,
    columns: [
      { head: 'Factor' },
      { head: as.head },
      { head: 'Correction for place' },
      { head: 'Estimate', numeric: true },
      { head: intervalWords(findings), numeric: true },
      { head: 'p', numeric: true },
      { head: 'Against the answer' },
    ],
    rows: rows.flatMap((row) =>
      row.cells.map((cell, i) => {
        const [estimate, ...interval] = as.estimate(cell.estimate, cell.lower, cell.upper);
        return [
          onceOnly(row.factor, i),
          onceOnly(row.label, i),
          words(names[cell.model]),
          // Bold where a difference is clear, as in the matrix.
          ...(estimate ? [{ ...estimate, strong: cell.shown }] : []),
          ...interval,
          p(cell.p, findings.alpha),
          words(againstAnswer(cell)),
        ];
      }),
    ),
  };
}

/** What a model says otherwise than the one that answers; empty where it says the same. */
export function againstAnswer({ changes, shown: isShown }: SensitivityCell): string {
  if (changes === null) return '';
  if (changes === 'sign') return 'other sign';
  return isShown ? 'clear' : 'not clear';
}

/** What place does by itself: edge, slope over the trays, light. Each from its own position model. */
export function effectsTable(findings: Findings): FindingsTable {
  const { edge, gradient, light, lightOverTrial } = findings;
  const as = shown(findings);
  const rows: [string, Effect | null | undefined, number][] = [
    ['edge pots against inner pots', edge, 1],
    ['a row towards the back', gradient?.perRow, 1],
    ['a column to the right', gradient?.perColumn, 1],
    [`10 µmol m⁻² s⁻¹ more light${lightOverTrial ? ' over the trial' : ''}`, light, 10],
  ];
  return {
    name: 'position effects',
    caption: `What place goes with, treatments and blocks allowed for${as.unit}`,
    columns: [
      { head: 'Place' },
      { head: as.head, numeric: true },
      { head: intervalWords(findings), numeric: true },
      { head: 'p', numeric: true },
    ],
    rows: rows.flatMap(([name, effect, times]) =>
      effect
        ? [
            [
              words(name),
              ...as.estimate(effect.difference * times, effect.lower * times, effect.upper * times),
              p(effect.p, findings.alpha),
            ],
          ]
        : [],
    ),
  };
}
