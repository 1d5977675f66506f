import { bind } from '../../document';
import type { Canopy, Shelf, Tray } from '../../../shared-types/rack';
import { setTrayCanopy } from '../../document/commands';
import { Button, FieldList, Section } from '../../ui';
import { canopyFields } from './canopyFields';
import { sharedValues } from './common';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

const FIELDS = canopyFields('tray-canopy');

/** How high the plants of the selected trays grow, where that is not as their shelf says. */
export function TrayCanopySection(props: {
  trays: { shelf: Shelf; tray: Tray }[];
  lengths: UnitSystem;
}) {
  const { trays, lengths } = props;
  const act = useAct();
  const trayIds = trays.map(({ tray }) => tray.id);
  const own = trays.some(({ tray }) => tray.canopy !== undefined);
  return (
    <Section title="Canopy above the shelf">
      <FieldList<Canopy>
        of={sharedValues(trays.map(({ shelf, tray }) => tray.canopy ?? shelf.canopy))}
        fields={FIELDS}
        system={lengths}
        onChange={(canopy) => act([bind(setTrayCanopy, { trayIds, canopy })])}
      />
      {own ? (
        <div className="rack-buttons">
          <Button
            data-testid="tray-canopy-as-shelf"
            onClick={() => act([bind(setTrayCanopy, { trayIds, canopy: null })])}
          >
            Same as the shelf
          </Button>
        </div>
      ) : (
        <p className="field-remark">
          As the shelf says. Type here where plants of this tray grow taller or shorter.
        </p>
      )}
    </Section>
  );
}
