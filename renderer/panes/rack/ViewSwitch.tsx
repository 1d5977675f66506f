import { openView, shelfToShow } from '../../canvas';
import { upwardsByRack } from '../../engine/geometry';
import { usePlanStore, useSession, useStores } from '../../store';
import { Segmented } from '../../ui';

/** Front, one shelf from above and which, or all of them; of use on every stage. */
export function ViewSwitch() {
  const view = useSession((s) => s.view);
  const wanted = useSession((s) => s.shelfId);
  const stores = useStores();
  const showShelf = useSession((s) => s.showShelf);
  const plan = usePlanStore((s) => s.plan);
  if (!plan) return null;
  const shelves = upwardsByRack(plan.rack.shelves).reverse();
  const shown = shelfToShow(plan, wanted);
  return (
    <div className="rack-views">
      <Segmented
        label="View"
        testId="view-switch"
        value={view}
        options={[
          { value: 'front', label: 'Front' },
          { value: 'above', label: 'One shelf' },
          { value: 'all', label: 'All shelves' },
        ]}
        onChoose={(next) => openView(stores, next)}
      />
      {view === 'above' && shelves.length > 0 ? (
        <select
          className="input rack-shelf-choice"
          aria-label="Shelf seen from above"
          data-testid="shelf-choice"
          value={shown ?? ''}
          onChange={(event) => showShelf(event.target.value)}
        >
          {shelves.map((shelf) => (
            <option key={shelf.id} value={shelf.id}>
              Shelf {shelf.number}
            </option>
          ))}
        </select>
      ) : null}
    </div>
  );
}
