import type { Plan } from '../../../shared-types/plan';
import type { Shelf } from '../../../shared-types/rack';
import { faceNoneThatIsGone } from '../edit';
import { takeIdFrom } from '../ids';
import { nextShelfNumber } from '../new';
import { copyOfBays } from './boards';

/** Adds a shelf once more to a draft, with trays, lamps and boards of its own and the next number. */
export function copyShelf(draft: Plan, model: Shelf, change: Partial<Shelf>): void {
  const number = nextShelfNumber(draft.rack.shelves);
  const id = takeIdFrom(draft, 'shelf');
  const faces = { ...model.faces };
  // Another shelf faces the one that was copied, not its copy.
  faceNoneThatIsGone(faces, new Set());
  draft.rack.shelves.push({
    ...model,
    id,
    number,
    ...(model.faces && { faces }),
    trays: model.trays.map((tray) => ({ ...tray, id: takeIdFrom(draft, 'tray') })),
    ...copyOfBays(draft, model),
    lamps: model.lamps.map((lamp) => ({
      ...lamp,
      id: takeIdFrom(draft, 'lamp'),
      group: lamp.group === `shelf ${model.number}` ? `shelf ${number}` : lamp.group,
    })),
    ...change,
  });
}
