import type { Scene } from './plane/scene';

/** What the picture shows, in words. */
export function sayView(scene: Scene): string {
  switch (scene.view) {
    case 'front':
      return 'Rack from the front';
    case 'above':
      return `${scene.things[0]?.name ?? 'Shelf'} from above`;
    case 'all':
      return 'All shelves from above';
  }
}

/** Said in place of a picture of nothing. */
export function NoShelf({ editable }: { editable: boolean }) {
  return (
    <p className="rack-empty">
      {editable
        ? 'No shelf stands here yet. Take up the tool Shelf and click, or drag its size.'
        : 'No shelf stands here yet. The rack is drawn on the stage Rack.'}
    </p>
  );
}

/** For those who listen: the keys, and what is selected (null: announced by another picture). */
export function SpokenWords({ helpId, selected }: { helpId: string; selected: string | null }) {
  return (
    <>
      <p id={helpId} className="visually-hidden">
        Tab goes from thing to thing, arrow keys move what is selected or go from pot to pot, Enter
        opens its figures, U goes on to what lies under it, I writes an incident down, Escape goes
        back; 1 shows the rack from the front, 2 one shelf from above, 3 all shelves.
      </p>
      {selected === null ? null : (
        <p className="visually-hidden" aria-live="polite" data-testid="rack-announcement">
          {selected}
        </p>
      )}
    </>
  );
}
