import { useEffect, useRef } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { duplicateNext, removeThings } from '../../canvas';
import { nameOf, sayThings } from '../../document/queries/names';
import { lookUp } from '../../document/queries/selection';
import { usePlanStore, useSession } from '../../store';
import { Button, Section } from '../../ui';
import { ArrangeSection, CopySection } from './ArrangeSection';
import { BoardFields } from './BoardFields';
import { LampFields } from './lamps/LampFields';
import { PotFields } from './PotFields';
import { RackSummary } from './RackSummary';
import { ShelfFields } from './ShelfFields';
import { TrayFields } from './TrayFields';
import { useAct } from './useAct';
import './rack.css';

/** The figures of what is selected, or the rack at large. Escape returns to the canvas. */
export function RackInspector() {
  // While something is dragged its figures follow.
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  useKeyboardKept();
  if (!plan) return null;
  return (
    <div
      className="rack-inspector"
      data-testid="rack-inspector"
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        focusCanvas();
      }}
    >
      <Inspected plan={plan} />
    </div>
  );
}

function focusCanvas(): void {
  document.querySelector<HTMLElement>('[data-testid="rack-canvas"]')?.focus();
}

/**
 * A button that selects what it adds goes away with the figures it stood among. The keyboard then
 * goes on at the rack, where the new thing is selected, and not at the top of the page.
 */
function useKeyboardKept(): void {
  const selection = useSession((s) => s.selection);
  const seen = useRef(selection);
  useEffect(() => {
    if (selection === seen.current) return;
    seen.current = selection;
    if (document.activeElement === document.body) focusCanvas();
  }, [selection]);
}

function Inspected({ plan }: { plan: Plan }) {
  const selection = useSession((s) => s.selection);
  const { shelves, trays, lamps, boards, pots } = lookUp(plan, selection);
  const lengths = plan.display.lengths;
  const things = shelves.length + trays.length + lamps.length + boards.length;
  if (things + pots.length === 0) return <RackSummary plan={plan} />;
  const kinds = [shelves, trays, lamps, boards].filter((list) => list.length > 0).length;
  return (
    <>
      <Heading plan={plan} selection={selection} movable={things > 0} />
      <ArrangeSection plan={plan} selection={selection} />
      {kinds > 1 ? (
        <Section title="Different things">
          <p className="field-remark">
            {sayCounts(shelves.length, trays.length, lamps.length, boards.length)}. They can be
            moved, lined up, copied and removed together; figures are shared only among things of
            one kind.
          </p>
        </Section>
      ) : null}
      {kinds === 1 && shelves.length > 0 ? (
        <ShelfFields shelves={shelves} lengths={lengths} />
      ) : null}
      {kinds === 1 && trays.length > 0 ? <TrayFields trays={trays} lengths={lengths} /> : null}
      {kinds === 1 && lamps.length > 0 ? <LampFields lamps={lamps} lengths={lengths} /> : null}
      {kinds === 1 && boards.length > 0 ? <BoardFields boards={boards} lengths={lengths} /> : null}
      <CopySection plan={plan} selection={selection} />
      {things === 0 ? <PotFields pots={pots} lengths={lengths} /> : null}
    </>
  );
}

function Heading(props: { plan: Plan; selection: readonly string[]; movable: boolean }) {
  const { plan, selection } = props;
  const act = useAct();
  const select = useSession((s) => s.select);
  const [only, ...more] = selection;
  const name =
    only !== undefined && more.length === 0 ? nameOf(plan, only) : sayThings(plan, selection);
  const remove = () => {
    const command = removeThings(plan, selection);
    if (command && act(command)) select([]);
  };
  return (
    <header className="rack-heading">
      <h2 data-testid="inspected-name">{name.charAt(0).toUpperCase() + name.slice(1)}</h2>
      {props.movable ? (
        <div className="section-actions">
          {selection.every((ref) => ref.startsWith('board:')) ? null : (
            <Button
              title="Duplicate (Ctrl+D)"
              onClick={() => act(duplicateNext(selection), { select: true })}
            >
              Duplicate
            </Button>
          )}
          <Button tone="danger" title="Remove (Delete)" onClick={remove}>
            Remove
          </Button>
        </div>
      ) : null}
    </header>
  );
}

function sayCounts(shelves: number, trays: number, lamps: number, boards: number): string {
  const say = (n: number, one: string, many: string) =>
    n > 0 ? [`${n} ${n === 1 ? one : many}`] : [];
  return [
    ...say(shelves, 'shelf', 'shelves'),
    ...say(trays, 'tray', 'trays'),
    ...say(lamps, 'lamp', 'lamps'),
    ...say(boards, 'board', 'boards'),
  ].join(', ');
}
