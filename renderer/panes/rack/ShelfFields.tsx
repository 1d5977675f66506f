import { bind } from '../../document';
import type { Reflectances, Shelf } from '../../../shared-types/rack';
import { addLampOver } from '../../canvas';
import { addTray, editShelf } from '../../document/commands';
import { usePlanStore } from '../../store';
import { Button, Facts, FieldRow, LengthField, NumberField, Section } from '../../ui';
import { shared } from './common';
import { OptionalNumberField } from './OptionalNumberField';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

const SIDES: readonly { side: keyof Reflectances; label: string }[] = [
  { side: 'above', label: 'Underside above' },
  { side: 'canopy', label: 'Canopy' },
  { side: 'left', label: 'Left' },
  { side: 'right', label: 'Right' },
  { side: 'front', label: 'Front' },
  { side: 'back', label: 'Back' },
];

/** Every figure of the selected shelves. */
export function ShelfFields({ shelves, lengths }: { shelves: Shelf[]; lengths: UnitSystem }) {
  const act = useAct();
  const edit = (patchOf: (shelf: Shelf) => Partial<Omit<Shelf, 'id' | 'trays' | 'lamps'>>) =>
    act(shelves.map((shelf) => bind(editShelf, { shelfId: shelf.id, patch: patchOf(shelf) })));
  const [first] = shelves;
  const load = shared(shelves, (s) => s.ratedLoadKg ?? 'unknown');
  return (
    <>
      <Section title="Size and place">
        <FieldRow>
          <LengthField
            label="Width"
            testId="shelf-width"
            usual={{ of: 'Shelves', fromMm: 200, toMm: 3000 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.widthMm)}
            lowestMm={1}
            onCommit={(widthMm) => edit(() => ({ widthMm }))}
          />
          <LengthField
            label="Depth"
            testId="shelf-depth"
            usual={{ of: 'Shelves', fromMm: 150, toMm: 1500 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.depthMm)}
            lowestMm={1}
            onCommit={(depthMm) => edit(() => ({ depthMm }))}
          />
          <LengthField
            label="Surface above floor"
            testId="shelf-height"
            usual={{ of: 'Shelves', fromMm: 0, toMm: 3000 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.heightMm)}
            lowestMm={0}
            onCommit={(heightMm) => edit(() => ({ heightMm }))}
          />
          <LengthField
            label="Clear height"
            testId="shelf-clearance"
            usual={{ of: 'Clear heights', fromMm: 100, toMm: 2500 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.clearanceMm)}
            lowestMm={1}
            onCommit={(clearanceMm) => edit(() => ({ clearanceMm }))}
          />
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
              highest={99}
              value={first.number}
              onCommit={(number) => edit(() => ({ number }))}
            />
          ) : null}
        </FieldRow>
      </Section>
      {first && shelves.length === 1 ? <OnShelf shelf={first} /> : null}
      <Section title="Canopy above the shelf">
        <FieldRow>
          <LengthField
            label="At planting"
            testId="canopy-planting"
            usual={{ of: 'Canopies', fromMm: 0, toMm: 1000 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.canopy.plantingMm)}
            lowestMm={0}
            onCommit={(plantingMm) => edit((s) => ({ canopy: { ...s.canopy, plantingMm } }))}
          />
          <LengthField
            label="At harvest"
            testId="canopy-harvest"
            usual={{ of: 'Canopies', fromMm: 0, toMm: 1500 }}
            system={lengths}
            valueMm={shared(shelves, (s) => s.canopy.harvestMm)}
            lowestMm={0}
            onCommit={(harvestMm) => edit((s) => ({ canopy: { ...s.canopy, harvestMm } }))}
          />
        </FieldRow>
      </Section>
      <Section title="Light thrown back">
        <FieldRow>
          {SIDES.map(({ side, label }) => (
            <NumberField
              key={side}
              label={label}
              testId={`reflectance-${side}`}
              unit="%"
              lowest={0}
              highest={100}
              decimals={1}
              value={percentOf(shared(shelves, (s) => s.reflectances[side]))}
              onCommit={(percent) =>
                edit((s) => ({ reflectances: { ...s.reflectances, [side]: percent / 100 } }))
              }
            />
          ))}
        </FieldRow>
        <p className="field-remark">
          An open side throws back nothing; white board or film about 80 to 90 %, a closed canopy 5
          to 10 %.
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

function percentOf(share: number | null): number | null {
  return share === null ? null : share * 100;
}
