import { describe, expect, it } from 'vitest';
import {
  findingsNotices,
  findingsOfTable,
  paragraph,
  type TableReading,
} from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial/stream';
import type { DataTable } from '../../../shared-types/fit';
import { tableReading } from '../../builders/tableReading';

/** Six trays of four pots; trays differ, feed does nothing. */
function tableWith(feedOf: (tray: number, pot: number) => string): DataTable {
  const random = stream('trays', 'doubts');
  const columns: DataTable['columns'] = { tray: [], feed: [], weight: [] };
  for (let tray = 0; tray < 6; tray++) {
    const own = 3 * random.normal();
    for (let pot = 0; pot < 4; pot++) {
      columns['tray']?.push(`T${tray}`);
      columns['feed']?.push(feedOf(tray, pot));
      columns['weight']?.push(20 + own + random.normal());
    }
  }
  return { columns, rowCount: 24 };
}

const reading = (unit: 'pot' | 'tray'): TableReading =>
  tableReading({
    response: 'weight',
    unit: 'g',
    tray: 'tray',
    factors: [{ column: 'feed', kind: 'randomised', unit }],
  });

function found(table: DataTable, unit: 'pot' | 'tray') {
  const outcome = findingsOfTable(table, reading(unit));
  if (!outcome.ok) throw new Error(outcome.missing);
  const kinds = findingsNotices(outcome.findings).map(({ kind }) => kind);
  return { text: paragraph(outcome.findings), kinds };
}

describe('a factor judged by smaller units than it was laid on', () => {
  const byTray = tableWith((tray) => (tray % 2 === 0 ? 'weak' : 'strong'));

  it('is told in the findings and as a notice', () => {
    const { text, kinds } = found(byTray, 'pot');
    expect(text).toContain('Feed never varies within a tray (there are 6), but is judged by pots.');
    expect(text).toContain('Take feed as a treatment of whole trays.');
    expect(kinds).toContain('unit-smaller-than-treated');
  });

  it('is not told where the right unit was chosen, nor where one pot differs from its tray', () => {
    expect(found(byTray, 'tray').kinds).not.toContain('unit-smaller-than-treated');
    const broken = tableWith((tray, pot) =>
      tray + pot === 0 ? 'strong' : tray % 2 === 0 ? 'weak' : 'strong',
    );
    expect(found(broken, 'pot').kinds).not.toContain('unit-smaller-than-treated');
  });
});
