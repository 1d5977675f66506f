import { useEffect, useRef, useState } from 'react';
import { deliveredMeasures, type DeliveredMeasure } from '../../../../shared-types/delivered';
import type { Plan } from '../../../../shared-types/plan';
import { deliveredIn, deliveredSettingOf } from '../../../derive';
import { logDelivered } from '../../../document/commands';
import { blindedSince, type DeliveredUnit } from '../../../document/queries';
import { useDispatch } from '../../../store/context';
import { Button, Field, readNumberText, Select } from '../../../ui';
import { capital, fieldNumber, rounded } from '../../../words';
import { DayPicker } from '../DayPicker';

type Texts = Partial<Record<DeliveredMeasure, string>>;

/** Unit and day stay; the figures are typed, and Enter keeps them and goes on to the next unit. */
export function DeliveredForm(props: {
  plan: Plan;
  unit: DeliveredUnit;
  units: readonly DeliveredUnit[];
  date: string;
  onDate: (date: string) => void;
  onUnit: (unitId: string) => void;
}) {
  const { plan, unit, units, date } = props;
  const dispatch = useDispatch();
  const form = useRef<HTMLDivElement>(null);
  const standing = plan.records.delivered?.[unit.id]?.[date] ?? {};
  // What stands is shown where it is not usual for the unit, too.
  const measures = deliveredMeasures.filter(
    (measure) => unit.measures.includes(measure) || standing[measure] !== undefined,
  );
  const speechOf = (measure: DeliveredMeasure) => deliveredIn(measure, plan.display.lengths);
  const shown = (measure: DeliveredMeasure) => {
    const value = standing[measure];
    const { shown, decimals } = speechOf(measure);
    // A figure that is kept with more digits shows them, unless its unit was turned.
    return value === undefined
      ? ''
      : fieldNumber(shown(value) === value ? value : rounded(shown(value), decimals));
  };
  // What was typed for another day is not of this one.
  const [typed, setTyped] = useState<{ date: string; texts: Texts }>({ date, texts: {} });
  const texts = typed.date === date ? typed.texts : {};
  const setTexts = (next: Texts) => setTyped({ date, texts: next });
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    form.current?.querySelector<HTMLElement>('input[inputmode="decimal"]')?.focus();
  }, []);
  const keep = () => {
    const figures: Partial<Record<DeliveredMeasure, number | null>> = {};
    for (const measure of measures) {
      const text = texts[measure]?.trim();
      if (text === undefined || text === shown(measure)) continue;
      const { name, decimals, kept } = speechOf(measure);
      const read = text === '' ? null : readNumberText(text, 10 ** -decimals);
      if (read && !read.ok) {
        setProblem(read.expected ?? `${capital(name)}: a number is expected.`);
        return;
      }
      figures[measure] = read ? kept(read.value) : null;
    }
    if (date === '') return;
    if (Object.keys(figures).length > 0) {
      const done = dispatch(logDelivered, { entries: [{ unitId: unit.id, date, figures }] });
      setProblem(done.ok ? null : done.reason);
      if (!done.ok) return;
    }
    setTexts({});
    const next = units[(units.findIndex(({ id }) => id === unit.id) + 1) % units.length];
    if (next) props.onUnit(next.id);
  };
  return (
    <div className="records-fields is-delivered" ref={form}>
      <Select
        label="Unit"
        testId="delivered-unit"
        value={unit.id}
        options={units.map(({ id, name }) => ({ value: id, label: name }))}
        onCommit={props.onUnit}
      />
      <DayPicker label="Day" testId="delivered-date" value={date} onCommit={props.onDate} />
      {measures.map((measure, i) => {
        const { name, unit: sign, say } = speechOf(measure);
        const setting =
          blindedSince(plan) === null ? deliveredSettingOf(plan, unit.id, measure) : null;
        return (
          <Field
            key={measure}
            label={capital(name) === 'PH' ? name : capital(name)}
            remark={setting ? `planned ${say(setting.value)}` : undefined}
            problem={i === 0 ? problem : null}
          >
            {(id, describedBy) => (
              <span className="input-with-unit">
                <input
                  id={id}
                  className="input input-numeric"
                  data-testid={`delivered-${measure}`}
                  inputMode="decimal"
                  autoComplete="off"
                  aria-describedby={describedBy}
                  value={texts[measure] ?? shown(measure)}
                  onChange={(event) => setTexts({ ...texts, [measure]: event.target.value })}
                  onKeyDown={(event) => {
                    if (event.key === 'Enter') keep();
                  }}
                />
                <span className="unit">{sign}</span>
              </span>
            )}
          </Field>
        );
      })}
      <Button tone="primary" data-testid="delivered-add" disabled={date === ''} onClick={keep}>
        Log, next unit
      </Button>
    </div>
  );
}
