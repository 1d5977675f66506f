import type { Circuit } from '../../../shared-types/flood';
import {
  circuitVerdict,
  electricityCautions,
  loadCases,
  loadCaseWords,
  loadVerdict,
} from '../../derive';
import { addCircuit, editFlood } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import { Button, FieldRow, NumberField, Section, Table, TextField } from '../../ui';
import { Checks } from './Checks';
import { QuantityField } from './QuantityField';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import { fixed, percent, shownIn, speechIn, unitOf } from '../../words';

/** What the shelves carry, and what hangs on the circuits. */
export function LoadPart({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const system = plan.display.lengths;
  const say = speechIn(system);
  const mass = (kg: number) => fixed(shownIn('mass', system, kg), 1);
  const setCircuit = (id: string, patch: Partial<Circuit>) =>
    dispatch(editFlood, {
      patch: { circuits: flood.circuits.map((c) => (c.id === id ? { ...c, ...patch } : c)) },
    });
  const unwired = figures.uncircuitedShelfIds.length + figures.uncircuitedZoneIds.length;
  return (
    <>
      <Section title="Load on the shelves" testId="flood-load">
        <Table
          caption={`Load on each shelf, ${unitOf('mass', system)}`}
          rows={figures.loads}
          rowKey={(l) => l.shelf.id}
          onRowClick={(l) => select([`shelf:${l.shelf.id}`])}
          columns={[
            { key: 'shelf', head: 'Shelf', cell: (l) => l.shelf.number },
            ...loadCases.map((which) => ({
              key: which,
              head: { dry: 'Dry', drained: 'Drained', flooded: 'Flooded', blocked: 'To the rim' }[
                which
              ],
              unit: unitOf('mass', system),
              numeric: true,
              cell: (l: (typeof figures.loads)[number]) => mass(l.casesKg[which]),
            })),
            {
              key: 'rated',
              head: 'Rated',
              unit: unitOf('mass', system),
              numeric: true,
              cell: (l) => (l.ratedKg === null ? '–' : mass(l.ratedKg)),
            },
            {
              key: 'left',
              head: 'Margin',
              unit: `${unitOf('mass', system)}, share`,
              numeric: true,
              cell: (l) =>
                l.margin === null ? '–' : `${mass(l.margin.spare)}, ${percent(l.margin.share)}`,
            },
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
      <Section
        title="Electricity by the water"
        testId="flood-electricity"
        actions={<Button onClick={() => dispatch(addCircuit, {})}>Add circuit</Button>}
      >
        {flood.circuits.map((c) => (
          <div key={c.id} className="flood-group">
            <FieldRow>
              <TextField
                label="Circuit"
                value={c.name}
                onCommit={(name) => setCircuit(c.id, { name })}
              />
              <NumberField
                label="Breaker"
                unit="A"
                value={c.breakerA}
                lowest={0.1}
                highest={1000}
                onCommit={(breakerA) => setCircuit(c.id, { breakerA })}
              />
              <NumberField
                label="Voltage"
                unit="V"
                value={c.voltageV}
                lowest={1}
                highest={1000}
                onCommit={(voltageV) => setCircuit(c.id, { voltageV })}
              />
              <NumberField
                label="Power factor"
                value={c.powerFactor}
                lowest={0.01}
                highest={1}
                step={0.01}
                onCommit={(powerFactor) => setCircuit(c.id, { powerFactor })}
              />
              <NumberField
                label="Other loads"
                unit="W"
                value={c.otherW}
                lowest={0}
                highest={100000}
                onCommit={(otherW) => setCircuit(c.id, { otherW })}
              />
              <Button
                onClick={() =>
                  dispatch(editFlood, {
                    patch: { circuits: flood.circuits.filter((x) => x.id !== c.id) },
                  })
                }
              >
                Remove
              </Button>
            </FieldRow>
            <Checks
              legend="Feeds the lamps of"
              things={plan.rack.shelves.map((shelf) => ({
                id: shelf.id,
                label: `shelf ${shelf.number}`,
              }))}
              chosen={c.shelfIds}
              onChange={(shelfIds) => setCircuit(c.id, { shelfIds })}
            />
            <Checks
              legend="and the pumps of"
              things={flood.zones.map((zone) => ({ id: zone.id, label: zone.name }))}
              chosen={c.zoneIds}
              onChange={(zoneIds) => setCircuit(c.id, { zoneIds })}
            />
          </div>
        ))}
        <Verdicts verdicts={figures.circuits.map(circuitVerdict)} />
        {unwired > 0 ? (
          <p className="field-remark">
            {unwired} shelves or zones with lamps or pumps are on no circuit stated here.
          </p>
        ) : null}
        <ul className="cautions">
          {electricityCautions.map((c) => (
            <li key={c.title}>
              <strong>{c.title}.</strong> {c.text}
            </li>
          ))}
        </ul>
      </Section>
    </>
  );
}
