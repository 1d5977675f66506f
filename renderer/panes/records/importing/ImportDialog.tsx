import type { Plan } from '../../../../shared-types/plan';
import { importValues } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, Checkbox, Dialog, FieldRow, Select, Problem } from '../../../ui';
import { keptHeads } from '../../../document/records';
import type { TableQuestion } from '../../../document/records';
import { capital, plural } from '../../../words';
import { fromKey, choiceOf, longWords, whatMatrixBrings, optionsFor } from './importColumns';
import { ImportFacts, ImportLeftOut, ImportMissing, ImportOtherRuns } from './ImportFindings';
import { ImportFormat } from './ImportFormat';
import { useImport, type FoundTable, type ImportState, type TableFile } from './useImport';

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
    return (
      <Dialog
        title={`Import ${name}`}
        onClose={onClose}
        actions={<Button onClick={onClose}>Close</Button>}
      >
        <p role="alert">{state.problem}</p>
        <ImportFormat format={state.format} />
      </Dialog>
    );
  }
  const { taking, count, nothing } = found.summary;
  const take = () => {
    const done = dispatch(importValues, {
      ...{ ...taking, second: state.second },
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
          <Button onClick={onClose}>Cancel</Button>
          <Button tone="primary" disabled={nothing} data-testid="import-take" onClick={take}>
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
      <Columns
        plan={plan}
        preview={found.preview}
        asked={found.matched.questions.flatMap(({ column }) => column ?? [])}
        onUse={state.useColumn}
      />
      <ImportFacts found={found} />
      {[...found.matched.questions.filter(isOfColumn).map(inWords), ...state.asked].map((text) => (
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

/** What each column is read as; in a long table the names of the columns have said it. */
function Columns(props: {
  plan: Plan;
  preview: FoundTable['preview'];
  /** Columns that have to be said, by number. */
  asked: readonly number[];
  onUse: ImportState['useColumn'];
}) {
  const { plan, preview, asked, onUse } = props;
  const long = preview.form === 'long';
  return (
    <>
      <Problem text={preview.problem} />
      {long ? <p data-testid="import-long">{longWords(preview.columns)}</p> : null}
      {preview.form === 'matrix' ? <p>{whatMatrixBrings(plan, preview.columns)}</p> : null}
      <FieldRow>
        {preview.columns.map(({ name, use }, i) =>
          use.use === 'long' || preview.form !== 'wide' ? null : (
            <Select
              key={`${i} ${name}`}
              label={`Column “${name}”`}
              value={asked.includes(i) ? 'ask' : choiceOf(use)}
              options={[
                ...(asked.includes(i) ? [{ value: 'ask', label: 'please choose' }] : []),
                ...optionsFor(plan, use),
              ]}
              onCommit={(key) => key !== 'ask' && onUse(i, fromKey(key, use))}
            />
          ),
        )}
      </FieldRow>
    </>
  );
}

/** What the other questions are about shows in the preview by itself. */
const isOfColumn = ({ about }: TableQuestion): boolean => about.startsWith('column ');

const inWords = ({ about, found, expected }: TableQuestion): string =>
  `${capital(about)}: ${found}; ${expected}.`;

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
