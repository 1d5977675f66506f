import { loadCases, loadCaseWords, loadVerdict } from '../../derive';
import { editFlood } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import { figureColumn, QuantityField, Section, Table } from '../../ui';
import { Electricity } from './Electricity';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import { fixed, percent, shownIn, speechIn, unitOf } from '../../words';

type Load = Flood['figures']['loads'][number];

const HEADS = {
  dry: 'Dry',
  drained: 'Drained',
  flooded: 'Flooded',
  blocked: 'To the rim',
} as const;

/** What the shelves carry, and what hangs on the circuits. */
export function LoadPart({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const system = plan.display.lengths;
  const say = speechIn(system);
  const unit = unitOf('mass', system);
  const mass = (kg: number) => fixed(shownIn('mass', system, kg), 1);
  return (
    <>
      <Section title="Load on the shelves" testId="flood-load">
        <Table<Load>
          caption={`Load on each shelf, ${unit}`}
          rows={figures.loads}
          rowKey={(l) => l.shelf.id}
          onRowClick={(l) => select([`shelf:${l.shelf.id}`])}
          columns={[
            { key: 'shelf', head: 'Shelf', cell: (l) => l.shelf.number },
            ...loadCases.map((which) =>
              figureColumn<Load>(HEADS[which], (l) => mass(l.casesKg[which]), unit),
            ),
            figureColumn('Rated', (l) => (l.ratedKg === null ? '–' : mass(l.ratedKg)), unit),
            figureColumn(
              'Margin',
              (l) =>
                l.margin === null ? '–' : `${mass(l.margin.spare)}, ${percent(l.margin.share)}`,
              `${unit}, share`,
            ),
          ]}
        />
        <Verdicts verdicts={figures.loads.map((load) => loadVerdict(load, say))} />
        <p className="field-remark">
          “Flooded” is the highest water of the day. “To the rim” is {loadCaseWords.blocked}: a
          shelf should bear that too, for drains clog and timers stick. Lamps over a shelf count as
          if it carried them; the empty pots’ and the plants’ own weight is not in it.
        </p>
        <div className="flood-single">
          <QuantityField
            label="One tray, empty"
            quantity="mass"
            system={system}
            value={flood.trayMassKg}
            lowest={0}
            highest={500}
            onCommit={(trayMassKg) => dispatch(editFlood, { patch: { trayMassKg } })}
          />
        </div>
      </Section>
      <Electricity plan={plan} flood={flood} figures={figures} />
    </>
  );
}
