import { expect, it } from 'vitest';
import { findingsOfTable, type Findings } from '../../../renderer/engine/findings';
import { dataTable, slopesTable } from '../../../renderer/print/report';
import { tableReading } from '../../builders/tableReading';

/** Four pots, their depths of water 25.4 and 50.8 mm in turn, allowed for with a slope of 0.5 per mm. */
function findings(): Findings {
  const outcome = findingsOfTable(
    { columns: { y: [1, 2, 4, 3, 2], f: ['a', 'a', 'b', 'b', 'b'] }, rowCount: 5 },
    tableReading({
      response: 'y',
      unit: 'g',
      factors: [{ column: 'f', kind: 'randomised', unit: 'pot' }],
    }),
  );
  if (!outcome.ok) throw new Error(outcome.missing);
  const found = outcome.findings;
  const depth = 'depth of water';
  const { primary, table } = found;
  const slope = { name: depth, estimate: 0.5, se: 0.1, df: 10, lower: 0.3, upper: 0.7 };
  return {
    ...found,
    table: { ...table, columns: { ...table.columns, [depth]: [25.4, 50.8, 25.4, 50.8, 25.4] } },
    primary: {
      ...primary,
      request: { ...primary.request, covariates: [depth] },
      result: { ...primary.result, coefficients: [slope] },
    },
  };
}

it('depths of water are told in the lengths of the plan, and so is their slope', () => {
  const depths = (lengths: 'metric' | 'imperial') => {
    const { columns, rows } = dataTable('t', findings(), lengths);
    const at = columns.findIndex(({ head }) => head === 'depth of water');
    return [columns[at]?.unit, rows[0]?.[at]?.text, rows[1]?.[at]?.value];
  };
  expect(depths('metric')).toEqual(['mm', '25.4', 50.8]);
  expect(depths('imperial')).toEqual(['in', '1', 2]);
  const slope = (lengths: 'metric' | 'imperial') =>
    slopesTable(findings(), lengths)
      ?.rows[0]?.map(({ text }) => text)
      .slice(1, 4);
  expect(slope('metric')).toEqual(['mm', '0.50', '0.30 to 0.70']);
  // An inch is 25.4 mm: 12.7 g (7.62 to 17.78), of which two digits of the width count.
  expect(slope('imperial')).toEqual(['in', '13', '8 to 18']);
});
