import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { shelfToShow } from '../../canvas';
import { useSession } from '../../store/context';
import { Select } from '../../ui';

/** Whether a selected thing belongs to a shelf. */
function isOn(shelf: Shelf, ref: string): boolean {
  const at = ref.indexOf(':');
  const kind = ref.slice(0, at);
  const id = ref.slice(at + 1);
  if (kind === 'shelf') return shelf.id === id;
  if (kind === 'lamp') return shelf.lamps.some((lamp) => lamp.id === id);
  const trayId = kind === 'pot' ? (id.split(':')[0] ?? '') : id;
  return (kind === 'tray' || kind === 'pot') && shelf.trays.some((tray) => tray.id === trayId);
}

/** The shelf that a question is about: that of the selection, else the one shown from above. */
export function useShelfInQuestion(plan: Plan): Shelf | undefined {
  const selection = useSession((s) => s.selection);
  const wanted = useSession((s) => s.shelfId);
  const { shelves } = plan.rack;
  const selected = shelves.find((shelf) => selection.some((ref) => isOn(shelf, ref)));
  return selected ?? shelves.find((shelf) => shelf.id === shelfToShow(plan, wanted));
}

/** Chooses the shelf in question by selecting it on the rack. */
export function ShelfChoice({ plan, shelf }: { plan: Plan; shelf: Shelf }) {
  const select = useSession((s) => s.select);
  const showShelf = useSession((s) => s.showShelf);
  return (
    <Select
      label="Shelf"
      value={shelf.id}
      options={plan.rack.shelves.map((s) => ({ value: s.id, label: `Shelf ${s.number}` }))}
      onCommit={(id) => {
        showShelf(id);
        select([`shelf:${id}`]);
      }}
    />
  );
}
