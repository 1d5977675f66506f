import { bind } from '../../document';
import { MOST_SHELVES, type Reflectances, type Shelf } from '../../../shared-types/rack';
import { addLampOver } from '../../canvas';
import { addTray, editShelf } from '../../document/commands';
import { usePlanStore } from '../../store';
import { Button, Facts, FieldList, NumberField, Section, type FieldOf } from '../../ui';
import type { PresetValue } from '../../../shared-types/window/presets';
import { PresetRow } from '../shared/presets/PresetRow';
import { BaysSection } from './BaysSection';
import { canopyFields } from './canopyFields';
import { shared, sharedValues } from './common';
import { OptionalNumberField } from './OptionalNumberField';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

const PLACE: readonly FieldOf<Shelf>[] = [
  {
    as: 'length',
    key: 'widthMm',
    label: 'Width',
    testId: 'shelf-width',
    lowestMm: 1,
    usual: { of: 'Shelves', fromMm: 200, toMm: 3000 },
  },
  {
    as: 'length',
    key: 'depthMm',
    label: 'Depth',
    testId: 'shelf-depth',
    lowestMm: 1,
    usual: { of: 'Shelves', fromMm: 150, toMm: 1500 },
  },
  {
    as: 'length',
    key: 'heightMm',
    label: 'Surface above floor',
    testId: 'shelf-height',
    lowestMm: 0,
    usual: { of: 'Shelves', fromMm: 0, toMm: 3000 },
  },
  {
    as: 'length',
    key: 'clearanceMm',
    label: 'Clear height',
    testId: 'shelf-clearance',
    lowestMm: 1,
    usual: { of: 'Clear heights', fromMm: 100, toMm: 2500 },
  },
];

const CANOPY = canopyFields('canopy');

const side = (key: keyof Reflectances, label: string): FieldOf<Reflectances> => ({
  as: 'share',
  key,
  label,
  testId: `reflectance-${key}`,
  decimals: 1,
});
const SIDES: readonly FieldOf<Reflectances>[] = [
  side('above', 'Underside above'),
  side('canopy', 'Canopy'),
  side('left', 'Left'),
  side('right', 'Right'),
  side('front', 'Front'),
  side('back', 'Back'),
];

const presetOf = (shelf: Shelf): PresetValue<'shelf'> => ({
  widthMm: shelf.widthMm,
  depthMm: shelf.depthMm,
  clearanceMm: shelf.clearanceMm,
});

/** Every figure of the selected shelves. */
export function ShelfFields({ shelves, lengths }: { shelves: Shelf[]; lengths: UnitSystem }) {
  const act = useAct();
  const edit = (
    patchOf: (shelf: Shelf) => Partial<Omit<Shelf, 'id' | 'trays' | 'lamps' | 'boards' | 'bays'>>,
  ) => act(shelves.map((shelf) => bind(editShelf, { shelfId: shelf.id, patch: patchOf(shelf) })));
  const [first] = shelves;
  const load = shared(shelves, (s) => s.ratedLoadKg ?? 'unknown');
  return (
    <>
      <Section title="Size and place">
        <FieldList<Shelf>
          of={sharedValues(shelves)}
          fields={PLACE}
          system={lengths}
          onChange={(patch) => edit(() => patch)}
        >
          <OptionalNumberField
            label="Rated load"
            testId="shelf-load"
            value={load ?? 'differ'}
            quantity="mass"
            system={lengths}
            highest={10_000}
            onCommit={(ratedLoadKg) => edit(() => ({ ratedLoadKg }))}
          />
          {first && shelves.length === 1 ? (
            <NumberField
              label="Number"
              testId="shelf-number"
              whole
              lowest={1}
              highest={MOST_SHELVES}
              value={first.number}
              onCommit={(number) => edit(() => ({ number }))}
            />
          ) : null}
        </FieldList>
        <PresetRow
          kind="shelf"
          current={first && shelves.length === 1 ? presetOf(first) : null}
          onTake={(preset) => edit(() => preset)}
        />
      </Section>
      {first && shelves.length === 1 ? (
        <>
          <OnShelf shelf={first} />
          <BaysSection shelf={first} />
        </>
      ) : null}
      <Section title="Canopy above the shelf">
        <FieldList<Shelf['canopy']>
          of={sharedValues(shelves.map((s) => s.canopy))}
          fields={CANOPY}
          system={lengths}
          onChange={(patch) => edit((s) => ({ canopy: { ...s.canopy, ...patch } }))}
        />
      </Section>
      <Section title="Reflectance">
        <FieldList<Reflectances>
          of={sharedValues(shelves.map((s) => s.reflectances))}
          fields={SIDES}
          system={lengths}
          onChange={(patch) => edit((s) => ({ reflectances: { ...s.reflectances, ...patch } }))}
        />
        <p className="field-remark">
          An open side reflects nothing; white board or film about 80 to 90 %, a closed canopy 5 to
          10 %.
        </p>
      </Section>
    </>
  );
}

/** What stands and hangs here, and more of it. */
function OnShelf({ shelf }: { shelf: Shelf }) {
  const act = useAct();
  const plan = usePlanStore((s) => s.plan);
  return (
    <Section title="On this shelf">
      <Facts
        rows={[
          ['Trays', shelf.trays.length],
          ['Lamps over it', shelf.lamps.length],
        ]}
      />
      <div className="rack-buttons">
        <Button
          data-testid="add-tray"
          onClick={() => act(bind(addTray, { shelfId: shelf.id }), { select: true })}
        >
          Add a tray
        </Button>
        <Button
          data-testid="add-lamp"
          onClick={() => {
            if (plan) act(addLampOver(plan, shelf), { select: true });
          }}
        >
          Hang a lamp
        </Button>
      </div>
    </Section>
  );
}
