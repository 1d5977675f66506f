import { useState } from 'react';
import {
  alignments,
  alignmentWords,
  spreadDirections,
  spreadWords,
  type Alignment,
} from '../../../shared-types/window/arranging';
import type { Plan } from '../../../shared-types/plan';
import { bind } from '../../document';
import { alignItems, copyToShelves, spreadItems } from '../../document/commands';
import { placedOf, shelvesWithRoom } from '../../document/queries/placing';
import { nameOf } from '../../document/queries/names';
import { useSession } from '../../store';
import { Button, Section } from '../../ui';
import { AlignIcon } from './AlignIcon';
import { useAct } from './useAct';

/** Lines up and spaces several selected trays, lamps and boards. */
export function ArrangeSection({ plan, selection }: { plan: Plan; selection: readonly string[] }) {
  const act = useAct();
  const placed = placedOf(plan, selection);
  const items = placed.map(({ ref }) => ref);
  if (items.length < 2) return null;
  const offered = alignments.filter(
    (to) => !isHeight(to) || placed.every(({ kind }) => kind === 'lamp'),
  );
  return (
    <>
      <Section title="Line up" testId="line-up">
        <div className="rack-aligns">
          {offered.map((to) => (
            <Button
              key={to}
              title={`${alignmentWords[to]}${ALIGN_KEYS[to] ?? ''}`}
              aria-label={alignmentWords[to]}
              data-testid={`align-${to}`}
              onClick={() => act(bind(alignItems, { items, to }))}
            >
              <AlignIcon of={to} /> {SHORT[to]}
            </Button>
          ))}
        </div>
      </Section>
      {items.length > 2 ? (
        <Section title="Equal gaps">
          <div className="rack-buttons">
            {spreadDirections.map((along) => (
              <Button
                key={along}
                title={along === 'across' ? 'Alt+Shift+Left or Right' : 'Alt+Shift+Up or Down'}
                data-testid={`spread-${along}`}
                onClick={() => act(bind(spreadItems, { items, along }))}
              >
                {spreadWords[along]}
              </Button>
            ))}
          </div>
        </Section>
      ) : null}
    </>
  );
}

const isHeight = (to: Alignment) => to === 'lowest' || to === 'highest';

/** On the buttons, three in a row. */
const SHORT: Record<Alignment, string> = {
  left: 'Left',
  centre: 'Centre',
  right: 'Right',
  front: 'Front',
  middle: 'Middle',
  back: 'Back',
  lowest: 'Lowest',
  highest: 'Highest',
};

const ALIGN_KEYS: Partial<Record<Alignment, string>> = {
  left: ' (Alt+Left)',
  right: ' (Alt+Right)',
  front: ' (Alt+Down)',
  back: ' (Alt+Up)',
};

/** Copies of what is selected for the other shelves that have room: all of them, or one. */
export function CopySection({ plan, selection }: { plan: Plan; selection: readonly string[] }) {
  const act = useAct();
  const view = useSession((s) => s.view);
  const [chosen, choose] = useState('all');
  const placed = placedOf(plan, selection);
  const [first] = placed;
  const onOneShelf = placed.every(({ shelf }) => shelf.id === first?.shelf.id);
  if (!first || !onOneShelf || plan.rack.shelves.length < 2) return null;
  const items = placed.map(({ ref }) => ref);
  const roomy = shelvesWithRoom(plan, items);
  const to = roomy.includes(chosen) ? chosen : 'all';
  const toShelfIds = to === 'all' ? roomy : [to];
  return (
    <Section title="On other shelves too" testId="copy-to-shelves">
      {roomy.length === 0 ? (
        <p className="field-remark">No other shelf has room where this is.</p>
      ) : (
        <div className="rack-buttons">
          <select
            className="input rack-copy-choice"
            aria-label="Copy to"
            data-testid="copy-to"
            value={to}
            onChange={(event) => choose(event.target.value)}
          >
            <option value="all">all with room ({roomy.length})</option>
            {roomy.map((id) => (
              <option key={id} value={id}>
                {nameOf(plan, `shelf:${id}`)}
              </option>
            ))}
          </select>
          <Button
            title="Copy to all shelves with room (Ctrl+Shift+D)"
            data-testid="copy-to-shelves-do"
            onClick={() =>
              act(bind(copyToShelves, { items, toShelfIds }), { select: view !== 'above' })
            }
          >
            Copy
          </Button>
        </div>
      )}
    </Section>
  );
}
