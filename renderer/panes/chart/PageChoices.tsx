import type { Plan } from '../../../shared-types/plan';
import { refTo, nameOf } from '../../document';
import { blindedSince } from '../../document/queries';
import { roundsOf, type PrintableName, type PrintOptions } from '../../print';
import { Checkbox, Select } from '../../ui';

const WITH_TREATMENTS: readonly PrintableName[] = [
  'tray-charts',
  'shelf-charts',
  'rack-chart',
  'true-size',
  'order-of-work',
  'labels',
  'setup-list',
  'sealed-key',
];
const SEEN_FROM_A_SIDE: readonly PrintableName[] = [
  'tray-charts',
  'shelf-charts',
  'rack-chart',
  'true-size',
];
const BY_TRAY: readonly PrintableName[] = [
  'tray-charts',
  'true-size',
  'order-of-work',
  'labels',
  'recording-sheets',
];

/** How pages are made: blinded, from behind, which tray, its log, earlier values. */
export function PageChoices(props: {
  plan: Plan;
  name: PrintableName;
  options: PrintOptions;
  onChange: (part: Partial<PrintOptions>) => void;
}) {
  const { plan, name, options, onChange } = props;
  const trays = plan.rack.shelves.flatMap((shelf) => shelf.trays.filter((tray) => tray.grid));
  return (
    <div className="chart-choices">
      {BY_TRAY.includes(name) && trays.length > 1 ? (
        <Select
          label="Trays"
          value={options.trayIds?.[0] ?? 'all'}
          options={[
            { value: 'all', label: 'all' },
            ...trays.map(({ id }) => ({ value: id, label: nameOf(plan, refTo('tray', id)) })),
          ]}
          onCommit={(id) => onChange({ trayIds: id === 'all' ? null : [id] })}
          testId="chart-tray"
        />
      ) : null}
      {WITH_TREATMENTS.includes(name) && plan.layout && blindedSince(plan) === null ? (
        <Checkbox
          label="Blinded: codes only"
          checked={options.blinded}
          onCommit={(blinded) => onChange({ blinded })}
          testId="chart-blinded"
        />
      ) : null}
      {SEEN_FROM_A_SIDE.includes(name) ? (
        <Checkbox
          label="Turned, for working from behind"
          checked={options.behind}
          onCommit={(behind) => onChange({ behind })}
          testId="chart-behind"
        />
      ) : null}
      {name === 'tray-charts' && plan.records.incidents.length > 0 && !options.blinded ? (
        <Checkbox
          label="What was logged for the tray"
          checked={options.log}
          onCommit={(log) => onChange({ log })}
          testId="chart-log"
        />
      ) : null}
      {name === 'recording-sheets' ? (
        <MeasurementChoice plan={plan} options={options} onChange={onChange} />
      ) : null}
      {name === 'recording-sheets' ? (
        <Checkbox
          label="Previous values in grey"
          checked={options.previous}
          onCommit={(previous) => onChange({ previous })}
          testId="chart-previous"
        />
      ) : null}
    </div>
  );
}

/** All measurements, those of one timepoint, or one alone. */
function MeasurementChoice(props: {
  plan: Plan;
  options: PrintOptions;
  onChange: (part: Partial<PrintOptions>) => void;
}) {
  const choices = roundsOf(props.plan, false).flatMap(({ words, columns }) => {
    const ids = columns.map(({ measurement }) => measurement.id);
    const whole = { value: ids.join(' '), label: words };
    if (columns.length === 1) return [whole];
    const single = columns.map(({ measurement }) => ({
      value: measurement.id,
      label: `${words}: ${measurement.name}`,
    }));
    return [whole, ...single];
  });
  if (choices.length < 2) return null;
  const chosen = props.options.measurementIds?.join(' ');
  return (
    <Select
      label="Measurements"
      value={choices.some(({ value }) => value === chosen) ? (chosen ?? 'all') : 'all'}
      options={[{ value: 'all', label: 'all' }, ...choices]}
      onCommit={(ids) => props.onChange({ measurementIds: ids === 'all' ? null : ids.split(' ') })}
      testId="chart-measurements"
    />
  );
}
