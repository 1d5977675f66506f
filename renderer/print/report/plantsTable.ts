import { plantsByLevel, type Findings } from '../../engine/findings';
import { words, type ReportCell, type FindingsTable } from './cells';

/** What became of the pots of each level; null where all were analysed. */
export function plantsTable(findings: Findings): FindingsTable | null {
  if (findings.leftOut.length === 0) return null;
  const count = (value: number): ReportCell => ({ text: String(value), value });
  return {
    name: 'plants',
    caption: 'Pots of each level: analysed, and left out by reason',
    columns: [
      { head: 'Factor' },
      { head: 'Level' },
      ...['Pots', 'Analysed', 'Dead', 'Missing', 'Others'].map((head) => ({
        head,
        numeric: true,
      })),
    ],
    rows: plantsByLevel(findings).map((row) => [
      words(row.factor),
      words(row.level),
      ...[row.pots, row.analysed, row.dead, row.missing, row.others].map(count),
    ]),
  };
}
