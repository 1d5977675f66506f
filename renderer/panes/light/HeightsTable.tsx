import type { Plan } from '../../../shared-types/plan';
import { twoHeightsOf, type TwoHeights } from '../../derive';
import { Table } from '../../ui';
import { fixed, lengthNumber, lengthUnit } from '../../words';

/** The light at planting beside the light at harvest, shelf by shelf. */
export function HeightsTable({ plan }: { plan: Plan }) {
  const { lengths } = plan.display;
  const ratio = (value: number | null) => (value === null ? '–' : fixed(value, 2));
  const two = (key: string, head: string, show: (at: TwoHeights['planting']) => string) => ({
    key,
    head,
    numeric: true,
    cell: (row: TwoHeights) => `${show(row.planting)}→${show(row.harvest)}`,
  });
  return (
    <>
      <Table
        caption="At planting→at harvest"
        showCaption
        testId="two-heights"
        rows={twoHeightsOf(plan)}
        rowKey={(row) => row.ref}
        columns={[
          {
            key: 'name',
            head: 'Where',
            cell: (row) => (
              <>
                {row.name}
                <span className="light-interval">
                  canopy {lengthNumber(row.planting.heightMm, lengths)}→
                  {lengthNumber(row.harvest.heightMm, lengths)} {lengthUnit(lengths)}
                </span>
              </>
            ),
          },
          two('mean', 'PPFD', (at) => fixed(at.evenness.mean, 0)),
          two('dli', 'DLI', (at) => fixed(at.dliMol, 1)),
          two('even', 'min : mean', (at) => ratio(at.evenness.minToMean)),
        ]}
      />
      <p className="field-remark">
        As plants grow towards the lamps the level rises. Canopy heights are set in the Rack stage,
        for a shelf or for single trays; the mean over the trays is told here.
      </p>
    </>
  );
}
