import type { Plan } from '../../../../shared-types/plan';
import { importValues } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, Checkbox, Dialog } from '../../../ui';
import { keptHeads } from '../../../document/records';
import { plural } from '../../../words';
import { askedFirst, askedWords } from './importAsked';
import { ImportColumns } from './ImportColumns';
import { ImportFacts, ImportLeftOut, ImportMissing, ImportOtherRuns } from './ImportFindings';
import { ImportFormat } from './ImportFormat';
import { ImportRack } from './ImportRack';
import { UnreadTable } from './UnreadTable';
import type { TableFile } from './tableFormat';
import { useImport, type FoundTable, type ImportState } from './useImport';

/** What a table would put into the records, cell by cell, before anything is taken over. */
export function ImportDialog(props: {
  plan: Plan;
  file: TableFile;
  onClose: () => void;
  say: (text: string) => void;
}) {
  const { plan, file, onClose, say } = props;
  const { name } = file;
  const dispatch = useDispatch();
  const state = useImport(plan, file);
  const { found } = state;
  if (!found) {
    const { format, problem } = state;
    return <UnreadTable title={`Import ${name}`} {...{ format, problem, onClose }} />;
  }
  const { taking, count, nothing } = found.summary;
  const asked = askedFirst(found);
  const take = () => {
    const done = dispatch(importValues, {
      ...taking,
      second: state.second,
      heads: keptHeads(plan, found.matched),
    });
    say(done.ok ? `Imported ${plural(count, 'value')} from ${name}.` : done.reason);
    if (done.ok) onClose();
  };
  return (
    <Dialog
      title={`Import ${name}`}
      wide
      testId="import-dialog"
      onClose={onClose}
      actions={
        <>
          {asked === null ? null : (
            <p className="import-asked" id="import-asked" data-testid="import-asked">
              {asked}
            </p>
          )}
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            disabled={nothing || asked !== null}
            aria-describedby={asked === null ? undefined : 'import-asked'}
            data-testid="import-take"
            onClick={take}
          >
            Take over {plural(count, 'value')}
          </Button>
        </>
      }
    >
      <p>
        {plural(found.lines, 'line')}{' '}
        {found.matched.shape ? 'below the header' : 'of pots, tray by tray'}. Nothing is changed
        until you take the values over.
      </p>
      <ImportOtherRuns plan={plan} runs={found.preview.otherRuns} />
      <ImportFormat format={state.format} />
      <ImportColumns plan={plan} found={found} onUse={state.useColumn} />
      <ImportRack plan={plan} preview={found.preview} />
      <ImportFacts found={found} />
      {[...askedWords(found), ...state.asked].map((text) => (
        <p key={text} role="alert" className="field-problem">
          {text}
        </p>
      ))}
      <Choices state={state} summary={found.summary} />
      <ImportLeftOut rows={found.summary.leftOut} />
      <ImportMissing pots={found.preview.missingPots} />
    </Dialog>
  );
}

function Choices({ state, summary }: { state: ImportState; summary: FoundTable['summary'] }) {
  return (
    <>
      {summary.taking.secondValues.length === 0 ? (
        <Checkbox
          label="As the second entry, to be compared with the first"
          checked={state.second}
          testId="import-second"
          onCommit={state.setSecond}
        />
      ) : null}
      {summary.odd > 0 ? (
        <Checkbox
          label={`Take over ${plural(summary.odd, 'value')} outside the likely range too; I have looked at them`}
          checked={state.withOdd}
          onCommit={state.setWithOdd}
        />
      ) : null}
    </>
  );
}
