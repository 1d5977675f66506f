import type { Circuit } from '../../../shared-types/flood';
import { circuitVerdict, electricityCautions } from '../../derive';
import { addCircuit, editFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, FieldList, Section, type FieldOf } from '../../ui';
import { CheckboxList } from './CheckboxList';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';

const CIRCUIT: readonly FieldOf<Circuit>[] = [
  { as: 'text', key: 'name', label: 'Circuit' },
  { as: 'number', key: 'breakerA', label: 'Breaker', unit: 'A', lowest: 0.1, highest: 1000 },
  { as: 'number', key: 'voltageV', label: 'Voltage', unit: 'V', lowest: 1, highest: 1000 },
  { as: 'number', key: 'powerFactor', label: 'Power factor', lowest: 0.01, highest: 1, step: 0.01 },
  { as: 'number', key: 'otherW', label: 'Other loads', unit: 'W', lowest: 0, highest: 100000 },
];

/** What hangs on the circuits, and the cautions of electricity beside water. */
export function Electricity({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const setCircuit = (id: string, patch: Partial<Circuit>) =>
    dispatch(editFlood, {
      patch: { circuits: flood.circuits.map((c) => (c.id === id ? { ...c, ...patch } : c)) },
    });
  const unwired = figures.uncircuitedShelfIds.length + figures.uncircuitedZoneIds.length;
  return (
    <Section
      title="Electricity by the water"
      testId="flood-electricity"
      actions={<Button onClick={() => dispatch(addCircuit, {})}>Add circuit</Button>}
    >
      {flood.circuits.map((c) => (
        <div key={c.id} className="flood-group">
          <FieldList
            of={c}
            fields={CIRCUIT}
            system={plan.display.lengths}
            onChange={(patch) => setCircuit(c.id, patch)}
          >
            <Button
              onClick={() =>
                dispatch(editFlood, {
                  patch: { circuits: flood.circuits.filter((x) => x.id !== c.id) },
                })
              }
            >
              Remove
            </Button>
          </FieldList>
          <CheckboxList
            legend="Feeds the lamps of"
            things={plan.rack.shelves.map((shelf) => ({
              id: shelf.id,
              label: `shelf ${shelf.number}`,
            }))}
            chosen={c.shelfIds}
            onChange={(shelfIds) => setCircuit(c.id, { shelfIds })}
          />
          <CheckboxList
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
  );
}
