import type { Plan } from '../../../shared-types/plan';
import { blockFiguresOf, type BlockFigure } from '../../derive';
import { Fold, Table } from '../../ui';
import { figures, fixed, percent } from '../../words';

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
  if (!light) return 'How alike the pots of a block are is known once every pot has its light.';
  const all = percent(light.cvAll, 1);
  if (count < 2)
    return `Light differs between the pots with a CV of ${all}; no blocks take any of it up.`;
  const words = `Light differs with a CV of ${all} over all pots and ${percent(light.cvWithin, 1)} within blocks: they take up ${percent(light.shareBetween)} of it.`;
  if (light.relativeEfficiency === null) return words;
  const efficiency = light.relativeEfficiency * (smallSample ?? 1);
  const worth =
    efficiency >= 1
      ? `as good as ${fixed(efficiency, 2)} times the pots without them`
      : `no gain (${fixed(efficiency, 2)} times the pots): they cost more error df than they save`;
  return `${words} In light alone the blocks are ${worth}.`;
}
