import type { Plan } from '../../../../../shared-types/plan';
import { logDelivered } from '../../../../document/commands';
import { keptOfLog } from '../../../../document/delivered';
import { useDispatch } from '../../../../store/context';
import { Button, Dialog } from '../../../../ui';
import { plural } from '../../../../words';
import { ImportFormat } from '../../importing/ImportFormat';
import { UnreadTable } from '../../importing/UnreadTable';
import type { TableFile } from '../../importing/tableFormat';
import { LogColumns, LogUnits } from './LogColumns';
import { LogFigures, LogLeftOutTable } from './LogFindings';
import { useLogImport } from './useLogImport';

/** What a logger's table would put into the log, before anything is taken over. */
export function LogImportDialog(props: {
  plan: Plan;
  file: TableFile;
  onClose: () => void;
  say: (text: string) => void;
}) {
  const { plan, file, onClose, say } = props;
  const { name } = file;
  const dispatch = useDispatch();
  const state = useLogImport(plan, file);
  const { found } = state;
  if (!found) {
    const { format, problem } = state;
    return <UnreadTable title={`Log from ${name}`} {...{ format, problem, onClose }} />;
  }
  const { preview, summary } = found;
  const { asked, entries } = summary;
  const count = plural(preview.figures.length, 'figure');
  const take = () => {
    const done = dispatch(logDelivered, { entries, heads: keptOfLog(preview, state.said) });
    say(done.ok ? `Logged ${count} from ${name}.` : done.reason);
    if (done.ok) onClose();
  };
  return (
    <Dialog
      title={`Log from ${name}`}
      wide
      testId="log-import"
      onClose={onClose}
      actions={
        <>
          {asked.length === 0 ? null : (
            <p className="import-asked" id="log-asked" data-testid="log-asked">
              {asked.length === 1
                ? 'One thing has to be said first.'
                : `${asked.length} things have to be said first.`}
            </p>
          )}
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            disabled={asked.length > 0 || entries.length === 0}
            aria-describedby={asked.length === 0 ? undefined : 'log-asked'}
            data-testid="log-take"
            onClick={take}
          >
            Log {count}
          </Button>
        </>
      }
    >
      <p>
        {plural(preview.shape.rows.length, 'line')} below the header. Nothing is changed until you
        log the figures.
      </p>
      {asked.map((text) => (
        <p key={text} role="alert" className="field-problem">
          {text}
        </p>
      ))}
      <ImportFormat format={state.format} />
      <LogColumns preview={preview} onUse={state.useColumn} />
      <LogUnits {...{ plan, preview }} onUnit={state.useUnit} />
      <LogFigures {...{ preview, summary }} lengths={plan.display.lengths} />
      <LogLeftOutTable rows={summary.leftOut} />
    </Dialog>
  );
}
