import type { Plan } from '../../../shared-types/plan';
import { blockFiguresOf, type BlockFigure } from '../../derive';
import { Fold, Table } from '../../ui';
import { capital, figures, fixed, percent } from '../../words';

/** How alike the pots of a block are, and what the blocks may be expected to gain. */
export function BlockFiguresFold({ plan }: { plan: Plan }) {
  const found = blockFiguresOf(plan);
  if (!found.ok) return <p className="field-problem">{found.reason}</p>;
  const { blocks, light, smallSample } = found.value;
  if (blocks.length === 0) return null;
  return (
    <>
      <p data-testid="block-gain">{gain(blocks.length, light, smallSample)}</p>
      {blocks.length > 1 ? (
        <Fold title="Light in each block">
          <Table<BlockFigure>
            caption="Light in each block"
            rows={blocks}
            rowKey={(row) => row.name}
            columns={[
              { key: 'name', head: 'Block', cell: (row) => row.name },
              { key: 'pots', head: 'Pots', numeric: true, cell: (row) => row.pots },
              {
                key: 'ppfd',
                head: 'Mean light',
                unit: 'µmol m⁻² s⁻¹',
                numeric: true,
                cell: (row) => (row.meanPpfdUmol === null ? '–' : figures(row.meanPpfdUmol)),
              },
              {
                key: 'cv',
                head: 'CV within',
                numeric: true,
                cell: (row) => (row.cv === null ? '–' : percent(row.cv, 1)),
              },
            ]}
          />
        </Fold>
      ) : null}
    </>
  );
}

type Light = Extract<ReturnType<typeof blockFiguresOf>, { ok: true }>['value']['light'];

function gain(count: number, light: Light, smallSample: number | null): string {
  if (!light) return 'How far blocks take up the light is known once every pot has its light.';
  const all = percent(light.cvAll, 1);
  if (count < 2)
    return `Light differs between the pots with a CV of ${all}; no blocks take any of it up.`;
  const { shareBetween: share, relativeEfficiency } = light;
  const part = share > 0.5 ? 'most' : share > 0.2 ? 'part' : 'little';
  const said = [
    `CV ${all} over all pots, ${percent(light.cvWithin, 1)} within blocks`,
    `${percent(share)} taken up`,
  ];
  const words = `Blocks remove ${part} of the difference in light`;
  if (relativeEfficiency === null) return `${words}. ${capital(said.join(', '))}.`;
  const efficiency = relativeEfficiency * (smallSample ?? 1);
  said.push(`relative efficiency ${fixed(efficiency, 2)}`);
  const cost = efficiency < 1 ? ', but cost more error df than they save' : '';
  return `${words}${cost}. ${capital(said.join(', '))}.`;
}
