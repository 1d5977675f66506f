import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { measurementTraits, type Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import { enterValues, setTare } from '../../../document/commands';
import { measurementLabel } from '../../../document/queries';
import { readTyped } from '../../../document/records';
import { cellKey, openQuestions } from '../../../derive/records/valueQuestions';
import { useDispatch, useStores } from '../../../store/context';
import type { EntryBy } from '../../../store';
import { Button, Field, NumberField } from '../../../ui';
import { plural, fieldNumber } from '../../../words';
import type { Offer } from '../grid/QuestionLine';
import type { CellPlace } from '../grid/rowView';

/** The dish of the measurement under the cursor, and one value for all pots still open. */
export function DishPanel(props: {
  plan: Plan;
  measurement: Measurement;
  /** The pots shown in the grid. */
  pots: readonly Pot[];
  by: EntryBy;
  /** When values entered now were taken, where it is said. */
  day: string | undefined;
  /** Goes to a cell of the grid. */
  onGo: (cell: CellPlace) => void;
  say: (text: string, holds?: boolean, offer?: Offer) => void;
}) {
  const { plan, measurement, pots, by, say } = props;
  const dispatch = useDispatch();
  const stores = useStores();
  const [text, setText] = useState('');
  const list = plan.records.values[measurement.id] ?? {};
  const open = pots.filter(
    (pot) => list[pot.id] === undefined && plan.records.marks[pot.id] === undefined,
  );
  const read = readTyped(text, measurement);
  const problem = read.kind === 'unreadable' ? read.expected : null;
  const fill = () => {
    if (read.kind !== 'value') return;
    const { value } = read;
    const done = dispatch(enterValues, {
      measurementId: measurement.id,
      entries: open.map((pot) => ({ potId: pot.id, value })),
      second: by === 'second',
      day: props.day,
    });
    if (!done.ok) {
      say(done.reason);
      return;
    }
    setText('');
    const filled = `Filled ${plural(open.length, 'pot')} with ${fieldNumber(value)}.`;
    const after = stores.plan.getState().plan;
    const asked = after && by === 'first' ? askedAmong(after, measurement, open) : null;
    if (asked === null) say(filled);
    else
      say(`${filled} ${asked.said}`, true, {
        words: 'Go to the first',
        act: () => props.onGo(asked.cell),
      });
  };
  return (
    <div className="records-form" data-testid="dish-panel">
      <h3>{measurementLabel(measurement)}</h3>
      <div className="records-fields">
        {measurementTraits[measurement.kind].weighed ? (
          <NumberField
            label="Tare, taken off each weight typed"
            testId="dish"
            unit={measurement.unit}
            lowest={0}
            decimals={4}
            value={plan.records.tare?.[measurement.id] ?? 0}
            onCommit={(tare) => dispatch(setTare, { measurementId: measurement.id, tare })}
          />
        ) : null}
        <Field label="One value for all open pots shown" problem={problem}>
          {(id, describedBy) => (
            <span className="input-with-unit">
              <input
                id={id}
                className="input input-numeric"
                data-testid="fill-value"
                inputMode="decimal"
                autoComplete="off"
                aria-describedby={describedBy}
                value={text}
                onChange={(event) => setText(event.target.value)}
                onKeyDown={(event) => {
                  if (event.key === 'Enter') fill();
                }}
              />
              <span className="unit">{measurement.unit}</span>
              <Button
                data-testid="fill"
                disabled={read.kind !== 'value' || open.length === 0}
                onClick={fill}
              >
                Fill {plural(open.length, 'pot')}
              </Button>
            </span>
          )}
        </Field>
      </div>
    </div>
  );
}

/** What the values filled in raise, as typed ones do; null: nothing. */
export function askedAmong(
  plan: Plan,
  { id }: Pick<Measurement, 'id'>,
  filled: readonly Pot[],
): { said: string; cell: CellPlace } | null {
  const questions = openQuestions(plan);
  const asked = filled.flatMap((pot) => {
    const [question] = questions.get(cellKey(id, pot.id)) ?? [];
    return question ? [{ pot, question }] : [];
  });
  const [first, ...more] = asked;
  if (!first) return null;
  const also =
    more.length > 0 ? ` ${plural(more.length, 'more pot')} asked about alike; F8 goes on.` : '';
  return {
    said: `${first.question.text}${also}`,
    cell: { potId: first.pot.id, measurementId: id },
  };
}
