import type { FloodPlan, Medium } from '../../../../shared-types/flood';
import { addMedium, editFlood } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, FieldList, Section, type FieldOf } from '../../../ui';
import { CheckboxList } from '../CheckboxList';
import { traysOf, type Flood } from '../useFlood';
import { PresetRow } from '../../shared/presets/PresetRow';
import { Verdicts } from '../Verdicts';
import { rootZoneVerdicts } from '../../../derive';
import { speechIn } from '../../../words';

const HEIGHTS: readonly FieldOf<FloodPlan>[] = [
  {
    as: 'length',
    key: 'rootZoneTopMm',
    label: 'Root zone up to',
    lowestMm: 0,
    testId: 'root-zone',
  },
  { as: 'length', key: 'leafLineMm', label: 'Leaf line', lowestMm: 0, testId: 'leaf-line' },
  { as: 'share', key: 'leastWetShare', label: 'Wet at least, of the root zone' },
];

const MEDIUM: readonly FieldOf<Medium>[] = [
  { as: 'text', key: 'name', label: 'Medium' },
  { as: 'share', key: 'porosity', label: 'Pores' },
  { as: 'share', key: 'waterAtDrainShare', label: 'Water after draining' },
  {
    as: 'quantity',
    key: 'dryDensityKgM3',
    label: 'Dry',
    quantity: 'density',
    lowest: 1,
    highest: 5000,
    step: 10,
  },
];

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
      <FieldList
        of={flood}
        fields={HEIGHTS}
        system={lengths}
        onChange={(patch) => dispatch(editFlood, { patch })}
      />
      <Verdicts verdicts={rootZoneVerdicts(flood, figures.trays.values(), speechIn(lengths))} />
      {flood.media.map((m) => (
        <div key={m.id} className="flood-group">
          <FieldList
            of={m}
            fields={MEDIUM}
            system={lengths}
            onChange={(patch) => setMedium(m.id, patch)}
          >
            <Button
              onClick={() =>
                dispatch(editFlood, { patch: { media: flood.media.filter((x) => x.id !== m.id) } })
              }
            >
              Remove
            </Button>
          </FieldList>
          <PresetRow
            kind="medium"
            current={{
              name: m.name,
              porosity: m.porosity,
              dryDensityKgM3: m.dryDensityKgM3,
              waterAtDrainShare: m.waterAtDrainShare,
            }}
            onTake={(medium) => setMedium(m.id, medium)}
          />
          <CheckboxList
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
