import type { Medium } from '../../../shared-types/flood';
import { addMedium, editFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, FieldRow, LengthField, NumberField, Section, TextField } from '../../ui';
import { Checks } from './Checks';
import { QuantityField } from './QuantityField';
import { traysOf, type Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import { rootZoneVerdicts } from '../../derive';
import { speechIn } from '../../words';

/** Heights that the water is held against, and the media in the pots. */
export function CropPart({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const { lengths } = plan.display;
  const taken = new Set(flood.media.flatMap((m) => m.trayIds));
  const trays = traysOf(plan);
  const free = trays.map((tray) => tray.id).filter((id) => !taken.has(id));
  const setMedium = (id: string, patch: Partial<Medium>) =>
    dispatch(editFlood, {
      patch: { media: flood.media.map((m) => (m.id === id ? { ...m, ...patch } : m)) },
    });
  return (
    <Section title="Roots, leaves and media">
      <FieldRow>
        <LengthField
          label="Root zone up to"
          testId="root-zone"
          system={lengths}
          valueMm={flood.rootZoneTopMm}
          lowestMm={0}
          onCommit={(rootZoneTopMm) => dispatch(editFlood, { patch: { rootZoneTopMm } })}
        />
        <LengthField
          label="Leaf line"
          testId="leaf-line"
          system={lengths}
          valueMm={flood.leafLineMm}
          lowestMm={0}
          onCommit={(leafLineMm) => dispatch(editFlood, { patch: { leafLineMm } })}
        />
        <NumberField
          label="Wet at least, of the root zone"
          unit="%"
          value={flood.leastWetShare * 100}
          lowest={0}
          highest={100}
          onCommit={(p) => dispatch(editFlood, { patch: { leastWetShare: p / 100 } })}
        />
      </FieldRow>
      <Verdicts verdicts={rootZoneVerdicts(flood, figures.trays.values(), speechIn(lengths))} />
      {flood.media.map((m) => (
        <div key={m.id} className="flood-group">
          <FieldRow>
            <TextField
              label="Medium"
              value={m.name}
              onCommit={(name) => setMedium(m.id, { name })}
            />
            <NumberField
              label="Pores"
              unit="%"
              value={m.porosity * 100}
              lowest={0}
              highest={100}
              onCommit={(p) => setMedium(m.id, { porosity: p / 100 })}
            />
            <NumberField
              label="Water after draining"
              unit="%"
              value={m.waterAtDrainShare * 100}
              lowest={0}
              highest={100}
              onCommit={(p) => setMedium(m.id, { waterAtDrainShare: p / 100 })}
            />
            <QuantityField
              label="Dry"
              quantity="density"
              system={lengths}
              value={m.dryDensityKgM3}
              lowest={1}
              highest={5000}
              step={10}
              onCommit={(dryDensityKgM3) => setMedium(m.id, { dryDensityKgM3 })}
            />
            <Button
              onClick={() =>
                dispatch(editFlood, { patch: { media: flood.media.filter((x) => x.id !== m.id) } })
              }
            >
              Remove
            </Button>
          </FieldRow>
          <Checks
            legend="Fills the pots of trays"
            things={trays.filter((t) => m.trayIds.includes(t.id) || !taken.has(t.id))}
            chosen={m.trayIds}
            onChange={(trayIds) => setMedium(m.id, { trayIds })}
          />
        </div>
      ))}
      {free.length > 0 ? (
        <>
          <p className="field-remark">
            Where no medium is stated, pots displace no water and weigh as much as water: that errs
            to long times and heavy shelves.
          </p>
          <Button
            onClick={() =>
              dispatch(addMedium, {
                // Peat, by Front. Plant Sci. 2014, 5:625, Table 4.
                medium: {
                  name: 'peat',
                  porosity: 0.93,
                  dryDensityKgM3: 113,
                  waterAtDrainShare: 0.79,
                  trayIds: free,
                },
              })
            }
          >
            State the medium of {free.length === 1 ? 'a tray' : `${free.length} trays`}
          </Button>
        </>
      ) : null}
    </Section>
  );
}
