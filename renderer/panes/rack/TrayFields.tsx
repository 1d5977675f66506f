import { bind } from '../../document';
import { drainPlaces, drainPlaceWords, type DrainPlace } from '../../../shared-types/landmarks';
import type { Shelf, Tray } from '../../../shared-types/rack';
import { editTray, resizeTray, setDrainPlace } from '../../document/commands';
import { FieldList, Section, Select, type FieldOf } from '../../ui';
import { shared, sharedValues } from './common';
import type { PresetValue } from '../../../shared-types/window/presets';
import { PresetRow } from '../shared/presets/PresetRow';
import { GridFields } from './GridFields';
import { TrayCanopySection } from './TrayCanopySection';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

type TrayFigures = Omit<Tray, 'id' | 'grid' | 'canopy' | 'drainPlace'>;

const FIELDS: readonly FieldOf<TrayFigures>[] = [
  { as: 'length', key: 'xMm', label: 'From the left', testId: 'tray-x' },
  { as: 'length', key: 'yMm', label: 'From the front', testId: 'tray-y' },
  {
    as: 'length',
    key: 'widthMm',
    label: 'Width',
    testId: 'tray-width',
    lowestMm: 1,
    usual: { of: 'Trays', fromMm: 100, toMm: 2500 },
  },
  {
    as: 'length',
    key: 'depthMm',
    label: 'Depth',
    testId: 'tray-depth',
    lowestMm: 1,
    usual: { of: 'Trays', fromMm: 100, toMm: 1500 },
  },
  {
    as: 'length',
    key: 'rimHeightMm',
    label: 'Rim height',
    testId: 'tray-rim',
    lowestMm: 1,
    usual: { of: 'Rims', fromMm: 10, toMm: 300 },
  },
];
const LETTER: FieldOf<TrayFigures> = {
  as: 'text',
  key: 'letter',
  label: 'Letter',
  testId: 'tray-letter',
  longest: 2,
};

/** Every figure of the selected trays and of the pots in them. */
export function TrayFields(props: { trays: { shelf: Shelf; tray: Tray }[]; lengths: UnitSystem }) {
  const { lengths } = props;
  const act = useAct();
  const trays = props.trays.map(({ tray }) => tray);
  const edit = ({ letter, ...patch }: Partial<TrayFigures>) =>
    act(
      trays.map((tray) => {
        const { id: trayId, xMm, yMm, widthMm, depthMm } = tray;
        if (patch.widthMm === undefined && patch.depthMm === undefined) {
          const named = letter === undefined ? {} : { letter: letter.toUpperCase() };
          return bind(editTray, { trayId, patch: { ...patch, ...named } });
        }
        return bind(resizeTray, { trayId, xMm, yMm, widthMm, depthMm, ...patch, refitGrid: false });
      }),
    );
  const [first] = trays;
  const take = ({ rimHeightMm, ...size }: PresetValue<'tray'>) =>
    act(
      trays.flatMap(({ id: trayId, xMm, yMm }) => [
        bind(resizeTray, { trayId, xMm, yMm, ...size, refitGrid: false }),
        bind(editTray, { trayId, patch: { rimHeightMm } }),
      ]),
    );
  return (
    <>
      <Section title="Size and place">
        <FieldList<TrayFigures>
          of={sharedValues(trays)}
          fields={trays.length === 1 ? [...FIELDS, LETTER] : FIELDS}
          system={lengths}
          onChange={edit}
        />
        <Select<DrainPlace | 'unsaid'>
          label="Drain"
          testId="tray-drain"
          remark="Drawn on charts, so that a tray is not turned about."
          value={shared(trays, (tray) => tray.drainPlace ?? 'unsaid')}
          options={[
            { value: 'unsaid', label: 'not said' },
            ...drainPlaces.map((value) => ({ value, label: drainPlaceWords[value] })),
          ]}
          onCommit={(place) =>
            act([
              bind(setDrainPlace, {
                trayIds: trays.map(({ id }) => id),
                place: place === 'unsaid' ? null : place,
              }),
            ])
          }
        />
        <PresetRow
          kind="tray"
          current={
            first && trays.length === 1
              ? { widthMm: first.widthMm, depthMm: first.depthMm, rimHeightMm: first.rimHeightMm }
              : null
          }
          onTake={take}
        />
      </Section>
      <TrayCanopySection trays={props.trays} lengths={lengths} />
      <GridFields trays={trays} lengths={lengths} />
    </>
  );
}
