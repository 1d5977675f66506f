import type { Plan } from '../../../shared-types/plan';
import { lightEnergyOf } from '../../derive';
import type { ShelfEnergy } from '../../engine/light';
import { editLight } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Facts, FieldRow, figureColumn, NumberField, Table, TextField } from '../../ui';
import { TrialDaysField, useTrialDays } from './TrialDaysField';
import { usePhotonsFollowed } from './usePhotonsFollowed';
import { figures, fixed, percent } from '../../words';

/** What the lamps draw, what that costs, and how much of their light lands on pots. */
export function EnergyPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const followed = usePhotonsFollowed(plan);
  const { currency, electricityPricePerKwh } = plan.light;
  return (
    <>
      <FieldRow>
        <TrialDaysField plan={plan} remark="Taken from the trial once it has dates." />
        <NumberField
          label="Price per kWh"
          lowest={0}
          highest={100}
          step={0.01}
          value={electricityPricePerKwh}
          testId="price"
          onCommit={(price) => dispatch(editLight, { patch: { electricityPricePerKwh: price } })}
        />
        <TextField
          label="Currency"
          longest={8}
          mayBeEmpty
          value={currency}
          onCommit={(text) => dispatch(editLight, { patch: { currency: text } })}
        />
      </FieldRow>
      {followed === null ? (
        <EnergyFigures plan={plan} />
      ) : (
        <p className="field-remark" role="status">
          Following the photons: {followed} of {plan.rack.shelves.length} shelves.
        </p>
      )}
    </>
  );
}

function EnergyFigures({ plan }: { plan: Plan }) {
  const [days] = useTrialDays(plan);
  const energy = lightEnergyOf(plan, days);
  const { currency } = plan.light;
  const money = (value: number | null) =>
    value === null ? '–' : `${fixed(value, 2)} ${currency}`.trim();
  const share = (value: number | null) => (value === null ? '–' : percent(value));
  const lit = plan.rack.shelves.filter((shelf) => shelf.lamps.length > 0);
  const numbers = new Map(lit.map((shelf) => [shelf.id, shelf.number]));
  if (!energy.ok) return <p className="field-problem">{energy.reason}</p>;
  return (
    <>
      <Facts
        rows={[
          ['Power while lit', `${fixed(energy.value.powerW, 0)} W`],
          ['A day', `${figures(energy.value.kwhPerDay)} kWh · ${money(energy.value.costPerDay)}`],
          [
            `${days} days`,
            `${figures(energy.value.kwhTotal)} kWh · ${money(energy.value.costTotal)}`,
          ],
        ]}
      />
      <Table<ShelfEnergy>
        caption="Where the photons go"
        showCaption
        testId="energy"
        rows={energy.value.shelves.filter((shelf) => numbers.has(shelf.shelfId))}
        rowKey={(row) => row.shelfId}
        columns={[
          {
            key: 'name',
            head: 'Where',
            cell: (row) => `Shelf ${numbers.get(row.shelfId) ?? ''}`,
          },
          figureColumn('a day', (row) => figures(row.kwhPerDay), 'kWh'),
          figureColumn(
            'photons',
            (row) => (row.molPerKwh === null ? '–' : fixed(row.molPerKwh, 1)),
            'mol/kWh',
          ),
          figureColumn('land on trays', (row) => share(row.shareOnTrays)),
          figureColumn('on pots’ tops', (row) => share(row.shareOnPots)),
        ]}
      />
      <p className="field-remark">
        Estimated: power in step with dimming (drivers draw a little more), light by the lamps’
        figures at canopy height.
      </p>
    </>
  );
}
