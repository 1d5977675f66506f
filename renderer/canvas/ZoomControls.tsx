import { Button } from '../ui';
import type { ViewportControl } from './useViewport';

/** Buttons on the canvas itself: the rack is zoomed where it is seen. */
export function ZoomControls(props: { view: ViewportControl; selection: readonly string[] }) {
  const { view, selection } = props;
  return (
    <div className="rack-zoom" role="group" aria-label="Zoom">
      <Button tone="quiet" aria-label="Zoom out" title="Zoom out (−)" onClick={view.zoomOut}>
        −
      </Button>
      <Button tone="quiet" aria-label="Zoom in" title="Zoom in (+)" onClick={view.zoomIn}>
        +
      </Button>
      <Button tone="quiet" title="Show everything (0 or F)" onClick={view.fit}>
        Fit
      </Button>
      <Button
        tone="quiet"
        className="zoom-selection"
        title="Zoom to what is selected (Z)"
        disabled={selection.length === 0}
        onClick={() => view.zoomTo(selection)}
      >
        Selection
      </Button>
    </div>
  );
}
