import { bind } from '../../document';
import type { ReactNode } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { addLampOver, setGridIn } from '../../canvas';
import {
  addShelf,
  addTray,
  removeLampKind,
  renumberShelves,
  setLengthDisplay,
} from '../../document/commands';
import { potsOf } from '../../derive';
import { upwardsByRack } from '../../engine/geometry';
import { useDispatch } from '../../store';
import { Button, EmptyState, Facts, Fold, Section, Segmented } from '../../ui';
import { LampKindFields } from './lamps/LampKindFields';
import { RoomSection } from './room/RoomSection';
import { useAct } from './useAct';

/** The rack at large, and what to do next; shown while nothing is selected. */
export function RackSummary({ plan }: { plan: Plan }) {
  const { rack, display } = plan;
  const dispatch = useDispatch();
  const act = useAct();
  const pots = potsOf(plan);
  const guards = pots.filter((pot) => pot.guard).length;
  const trays = rack.shelves.reduce((sum, s) => sum + s.trays.length, 0);
  const lamps = rack.shelves.reduce((sum, s) => sum + s.lamps.length, 0);
  const fromLowest = upwardsByRack(rack.shelves);
  const inOrder = fromLowest.every((shelf, i) => shelf.number === i + 1);
  return (
    <>
      <NextStep plan={plan} />
      {rack.shelves.length > 0 ? (
        <Section title="The rack" testId="rack-summary">
          <Facts
            rows={[
              ['Shelves', rack.shelves.length],
              ['Trays', trays],
              ['Lamps', lamps],
              ['Pots', pots.length],
              ['Guard pots', guards],
              ['Pots that are measured', pots.length - guards],
            ]}
          />
          {inOrder ? null : (
            <div className="rack-buttons">
              <Button onClick={() => act(bind(renumberShelves, {}))}>
                Number shelves from the lowest
              </Button>
            </div>
          )}
        </Section>
      ) : null}
      <RoomSection plan={plan} />
      <LampKinds rack={rack} lengths={display.lengths} />
      <Section title="Units">
        <Segmented
          label="Figures are shown in"
          testId="length-display"
          value={display.lengths}
          options={[
            { value: 'metric', label: 'metric' },
            { value: 'imperial', label: 'imperial' },
          ]}
          onChoose={(lengths) => dispatch(setLengthDisplay, { lengths })}
        />
        <p className="field-remark">
          {display.lengths === 'metric'
            ? 'Millimetres, litres, kilograms and degrees Celsius.'
            : 'Inches, US gallons, pounds and degrees Fahrenheit. Plants keep the units of their measurements.'}
        </p>
      </Section>
    </>
  );
}

/** The first thing that the rack still lacks. */
function NextStep({ plan }: { plan: Plan }): ReactNode {
  const act = useAct();
  const { shelves } = plan.rack;
  const [lowest] = [...shelves].sort((a, b) => a.heightMm - b.heightMm);
  if (!lowest) {
    return (
      <EmptyState
        title="An empty rack"
        actions={
          <Button
            tone="primary"
            data-testid="add-first-shelf"
            onClick={() => act(bind(addShelf, {}), { select: true })}
          >
            Add the first shelf
          </Button>
        }
      >
        Begin with the lowest shelf. Its size can be typed or drawn; further shelves are like the
        one below them.
      </EmptyState>
    );
  }
  const withoutTray = shelves.find((s) => s.trays.length === 0);
  if (withoutTray) {
    return (
      <EmptyState
        title={`Shelf ${withoutTray.number} has no tray`}
        actions={
          <Button
            tone="primary"
            onClick={() => act(bind(addTray, { shelfId: withoutTray.id }), { select: true })}
          >
            Add a tray
          </Button>
        }
      >
        A tray holds the pots and, later, the water.
      </EmptyState>
    );
  }
  const bare = shelves.flatMap((s) => s.trays).filter((t) => t.grid === null);
  if (bare.length > 0) {
    return (
      <EmptyState
        title={bare.length === 1 ? 'One tray is bare' : `${bare.length} trays are bare`}
        actions={
          <Button tone="primary" onClick={() => act(bare.map((t) => setGridIn(plan, t, null)))}>
            Fill with pots
          </Button>
        }
      >
        Pots take the size and spacing of those drawn last.
      </EmptyState>
    );
  }
  const dark = shelves.find((s) => s.lamps.length === 0);
  if (dark) {
    return (
      <EmptyState
        title={`No lamp hangs over shelf ${dark.number}`}
        actions={
          <Button tone="primary" onClick={() => act(addLampOver(plan, dark), { select: true })}>
            Hang a lamp
          </Button>
        }
      >
        The light at every pot is worked out from the lamps.
      </EmptyState>
    );
  }
  return null;
}

function LampKinds({ rack, lengths }: { rack: Rack; lengths: Plan['display']['lengths'] }) {
  const act = useAct();
  if (rack.lampKinds.length === 0) return null;
  return (
    <Section title="Lamp kinds">
      {rack.lampKinds.map((kind) => {
        const used = rack.shelves.some((s) => s.lamps.some((l) => l.kindId === kind.id));
        return (
          <Fold key={kind.id} title={kind.name} look="plain">
            <LampKindFields kind={kind} lengths={lengths} />
            {used ? null : (
              <div className="rack-buttons">
                <Button
                  tone="danger"
                  onClick={() => act(bind(removeLampKind, { kindId: kind.id }))}
                >
                  Remove this kind
                </Button>
              </div>
            )}
          </Fold>
        );
      })}
    </Section>
  );
}
