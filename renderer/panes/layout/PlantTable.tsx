import type { Plan } from '../../../shared-types/plan';
import type { PlanPlant } from '../../../shared-types/plant';
import { codeOfPot } from '../../document/queries/names';
import { asWritten } from '../../document/records';
import { Fold, Table } from '../../ui';
import { fieldNumber, plural, roundedTo } from '../../words';

export function PlantTable(props: { plan: Plan; plants: readonly PlanPlant[]; unit: string }) {
  const { plan, plants, unit } = props;
  const potOf = new Map(plan.layout?.assignments.map((a) => [a.plant, a.potId]));
  const ranked = [...plants].sort((a, b) => a.startValue - b.startValue);
  const here = plants.filter((plant) => !plant.lost);
  const mean = here.reduce((sum, plant) => sum + plant.startValue, 0) / Math.max(1, here.length);
  const lightest = ranked[0]?.startValue ?? 0;
  const heaviest = ranked.at(-1)?.startValue ?? 0;
  const shown = (value: number): string => fieldNumber(roundedTo(value, 4));
  return (
    <Fold
      title={`${plural(here.length, 'plant')}, ${shown(lightest)} to ${shown(heaviest)} ${unit}, mean ${shown(mean)}`}
    >
      <Table<PlanPlant>
        caption="Plants by starting value"
        rows={ranked}
        rowKey={(row) => row.code}
        columns={[
          { key: 'code', head: 'Plant', cell: (row) => row.code },
          {
            key: 'value',
            head: 'Start',
            unit,
            numeric: true,
            cell: (row) => asWritten(row.startValue),
          },
          {
            key: 'pot',
            head: 'Pot',
            cell: (row) => {
              const potId = potOf.get(row.code);
              if (potId !== undefined) return codeOfPot(plan, potId);
              return row.lost ? 'lost' : 'spare';
            },
          },
        ]}
      />
    </Fold>
  );
}
