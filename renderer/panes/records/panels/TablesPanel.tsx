import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import {
  hasTrail,
  recordsCsv,
  recordsDictionaryCsv,
  recordsHistoryCsv,
  recordsLongCsv,
} from '../../../document/records';
import { seenFromEach, titleInRun } from '../../../document/runs';
import { useHostOffer } from '../../../store/hostContext';
import { encodeText } from '../../../tables/encoding';
import { Button } from '../../../ui';
import { reasonOf } from '../../../words';
import { useOpenTable } from '../importing/useOpenTable';
import type { TableFile } from '../importing/tableFormat';
import { EXPORT_AS_USUAL, ExportFields } from './ExportFields';

/** Tables in and out. */
export function TablesPanel(props: {
  plan: Plan;
  onTable: (file: TableFile) => void;
  say: (text: string | null) => void;
}) {
  const { plan, onTable, say } = props;
  const host = useHostOffer();
  const [as, setAs] = useState(EXPORT_AS_USUAL);
  const open = useOpenTable(onTable, say);
  const runs = as.of === 'all' ? seenFromEach(plan) : [plan];
  const title = as.of === 'all' ? plan.title : titleInRun(plan);
  const put = (what: string, text: string) => {
    const table = encodeText(text, as.encoding);
    if (!table.ok) {
      const lacking = table.lacking.slice(0, 8).join(' ');
      say(`Nothing was exported: this encoding has no ${lacking}. UTF-8 has every sign.`);
      return;
    }
    host.exportText(`${title} – ${what}.csv`, 'csv', table.bytes).then(
      (done) => say(done ? `Exported: ${what}.` : null),
      (error: unknown) => say(reasonOf(error)),
    );
  };
  const tableOf = as.shape === 'wide' ? recordsCsv : recordsLongCsv;
  return (
    <div className="records-form" data-testid="tables-panel">
      <ExportFields plan={plan} as={as} onAs={setAs} />
      <div className="section-actions">
        <Button data-testid="export" onClick={() => put('records', tableOf(plan, as, runs))}>
          Export table…
        </Button>
        <Button
          data-testid="export-dictionary"
          onClick={() => put('columns', recordsDictionaryCsv(plan, as.shape, as, runs))}
        >
          Export what its columns mean…
        </Button>
        {runs.some(hasTrail) ? (
          <Button
            data-testid="export-history"
            onClick={() => put('history', recordsHistoryCsv(plan, as, runs))}
          >
            Export the history…
          </Button>
        ) : null}
        <Button data-testid="import" onClick={open}>
          Import table…
        </Button>
      </div>
    </div>
  );
}
