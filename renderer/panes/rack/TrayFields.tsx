import { bind } from '../../document';
import type { Shelf, Tray } from '../../../shared-types/rack';
import { editTray, resizeTray } from '../../document/commands';
import { FieldRow, LengthField, Section, TextField } from '../../ui';
import { shared } from './common';
import { GridFields } from './GridFields';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

/** Every figure of the selected trays and of the pots in them. */
export function TrayFields(props: { trays: { shelf: Shelf; tray: Tray }[]; lengths: UnitSystem }) {
  const { lengths } = props;
  const act = useAct();
  const trays = props.trays.map(({ tray }) => tray);
  const [only, ...more] = trays;
  const edit = (patch: Partial<Omit<Tray, 'id' | 'grid'>>) =>
    act(trays.map((tray) => bind(editTray, { trayId: tray.id, patch })));
  const resize = (size: { widthMm?: number; depthMm?: number }) =>
    act(
      trays.map((tray) => {
        const { id: trayId, xMm, yMm, widthMm, depthMm } = tray;
        return bind(resizeTray, { trayId, xMm, yMm, widthMm, depthMm, ...size, refitGrid: false });
      }),
    );
  return (
    <>
      <Section title="Size and place">
        <FieldRow>
          <LengthField
            label="From the left"
            testId="tray-x"
            system={lengths}
            valueMm={shared(trays, (t) => t.xMm)}
            onCommit={(xMm) => edit({ xMm })}
          />
          <LengthField
            label="From the front"
            testId="tray-y"
            system={lengths}
            valueMm={shared(trays, (t) => t.yMm)}
            onCommit={(yMm) => edit({ yMm })}
          />
          <LengthField
            label="Width"
            testId="tray-width"
            usual={{ of: 'Trays', fromMm: 100, toMm: 2500 }}
            system={lengths}
            valueMm={shared(trays, (t) => t.widthMm)}
            lowestMm={1}
            onCommit={(widthMm) => resize({ widthMm })}
          />
          <LengthField
            label="Depth"
            testId="tray-depth"
            usual={{ of: 'Trays', fromMm: 100, toMm: 1500 }}
            system={lengths}
            valueMm={shared(trays, (t) => t.depthMm)}
            lowestMm={1}
            onCommit={(depthMm) => resize({ depthMm })}
          />
          <LengthField
            label="Rim height"
            testId="tray-rim"
            usual={{ of: 'Rims', fromMm: 10, toMm: 300 }}
            system={lengths}
            valueMm={shared(trays, (t) => t.rimHeightMm)}
            lowestMm={1}
            onCommit={(rimHeightMm) => edit({ rimHeightMm })}
          />
          {only && more.length === 0 ? (
            <TextField
              label="Letter"
              testId="tray-letter"
              value={only.letter}
              longest={2}
              onCommit={(letter) => edit({ letter: letter.toUpperCase() })}
            />
          ) : null}
        </FieldRow>
      </Section>
      <GridFields trays={trays} lengths={lengths} />
    </>
  );
}
