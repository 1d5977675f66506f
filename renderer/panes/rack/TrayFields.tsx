import { bind } from '../../document';
import type { Shelf, Tray } from '../../../shared-types/rack';
import { editTray, resizeTray } from '../../document/commands';
import { FieldList, Section, type FieldOf } from '../../ui';
import { sharedValues } from './common';
import { GridFields } from './GridFields';
import { TrayCanopySection } from './TrayCanopySection';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

type TrayFigures = Omit<Tray, 'id' | 'grid' | 'canopy'>;

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
  return (
    <>
      <Section title="Size and place">
        <FieldList<TrayFigures>
          of={sharedValues(trays)}
          fields={trays.length === 1 ? [...FIELDS, LETTER] : FIELDS}
          system={lengths}
          onChange={edit}
        />
      </Section>
      <TrayCanopySection trays={props.trays} lengths={lengths} />
      <GridFields trays={trays} lengths={lengths} />
    </>
  );
}
