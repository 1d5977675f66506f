import type { Plan } from '../../../../shared-types/plan';
import type { Pot } from '../../../engine/geometry';
import { markDayProblem, usualMarkDay } from '../../../derive/records/markNotices';
import { markPots, notePot } from '../../../document/commands';
import { entriesOfMark, entriesOfNote, incidentsOfPot } from '../../../document/queries';
import { sayMark, sayNote } from '../../../document/records';
import type { EntryBy } from '../../../store';
import { useDispatch } from '../../../store/context';
import { Select, TextArea, TextField, today } from '../../../ui';
import { DayPicker } from '../DayPicker';
import { PotValues } from './PotValues';
import { StateHistory } from './StateHistory';
import { sayDay } from '../../../words';

/** What is known of one pot besides its values: state of the plant, note, photos, incidents. */
export function PotPanel(props: { plan: Plan; pot: Pot | null; by: EntryBy }) {
  const { plan, pot } = props;
  const second = props.by === 'second';
  const dispatch = useDispatch();
  if (!pot) return <p className="field-remark">Put the cursor on a pot.</p>;
  const mark = plan.records.marks[pot.id] ?? null;
  const note = plan.records.notes?.[pot.id] ?? { text: '', files: [] };
  const assignment = plan.layout?.assignments.find((a) => a.potId === pot.id);
  const incidents = incidentsOfPot(plan, pot);
  const plant = assignment?.plant ?? null;
  return (
    <div className="records-form" data-testid="pot-panel">
      <h3>
        Pot {pot.code}
        {plant === null ? '' : `, plant ${plant}`}
      </h3>
      <div className="records-fields">
        <Select
          label="State"
          testId="pot-state"
          value={mark?.mark ?? 'alive'}
          options={[
            { value: 'alive', label: 'alive' },
            { value: 'dead', label: 'dead' },
            { value: 'missing', label: 'missing' },
            { value: 'excluded', label: 'excluded' },
          ]}
          onCommit={(chosen) =>
            dispatch(markPots, {
              potIds: [pot.id],
              mark:
                chosen === 'alive'
                  ? null
                  : {
                      date: mark?.date ?? usualMarkDay(plan, null, today()),
                      reason: mark?.reason ?? '',
                      mark: chosen,
                    },
              second,
            })
          }
        />
        {mark ? (
          <>
            <DayPicker
              label="Since"
              value={mark.date ?? ''}
              testId="pot-since"
              remark={markDayProblem(plan, mark) ?? undefined}
              onCommit={(date) =>
                dispatch(markPots, {
                  potIds: [pot.id],
                  mark: { ...mark, date: date || null },
                  second,
                })
              }
            />
            <TextField
              label="Reason"
              testId="pot-reason"
              value={mark.reason}
              mayBeEmpty
              longest={2000}
              onCommit={(reason) =>
                dispatch(markPots, { potIds: [pot.id], mark: { ...mark, reason }, second })
              }
            />
          </>
        ) : null}
      </div>
      <StateHistory of="state" entries={entriesOfMark(plan.records, pot.id)} say={sayMark} />
      <div className="records-fields">
        <TextArea
          key={`text ${pot.id}`}
          label="Note"
          rows={2}
          testId="pot-note"
          value={note.text}
          onCommit={(text) => dispatch(notePot, { potId: pot.id, note: { ...note, text } })}
        />
        <TextArea
          key={`files ${pot.id}`}
          label="Photos and files, one path a line"
          rows={2}
          testId="pot-files"
          value={note.files.join('\n')}
          onCommit={(lines) =>
            dispatch(notePot, { potId: pot.id, note: { ...note, files: lines.split('\n') } })
          }
        />
      </div>
      <StateHistory of="note" entries={entriesOfNote(plan.records, pot.id)} say={sayNote} />
      <PotValues plan={plan} pot={pot} editable={!second} />
      {incidents.length > 0 ? (
        <ul className="plain-list field-remark">
          {incidents.map((incident) => (
            <li key={incident.id}>
              {sayDay(incident.date)}: {incident.text}
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}
