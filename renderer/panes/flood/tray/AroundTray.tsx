import {
  circuitVerdict,
  loadVerdict,
  reservoirVerdict,
  type FloodFigures,
  type TrayFlood,
} from '../../../derive';
import { useSession } from '../../../store/context';
import { Button } from '../../../ui';
import { Verdicts } from '../Verdicts';
import type { Speech } from '../../../words';

/** Flaws of what a tray depends on: its reservoir, its shelf, the circuits of its pump and lamps. */
export function AroundTray(props: {
  tray: TrayFlood;
  figures: FloodFigures;
  say: Speech;
  onPart: (part: 'zones' | 'load') => void;
}) {
  const { tray, figures, say, onPart } = props;
  const select = useSession((s) => s.select);
  const zone = figures.zones
    .filter((z) => z.zone.id === tray.zoneId)
    .map((z) => reservoirVerdict(z, say))
    .filter((v) => v.level === 'bad');
  const shelf = [
    ...figures.loads
      .filter((load) => load.shelf.id === tray.shelfId)
      .map((load) => loadVerdict(load, say)),
    ...figures.circuits
      .filter(
        ({ circuit }) =>
          circuit.zoneIds.includes(tray.zoneId) || circuit.shelfIds.includes(tray.shelfId),
      )
      .map(circuitVerdict),
  ].filter((v) => v.level === 'bad');
  if (zone.length + shelf.length === 0) return null;
  return (
    <div className="flood-around" data-testid="flood-around">
      <Verdicts verdicts={[...zone, ...shelf]} />
      <div className="flood-buttons">
        {zone.length > 0 ? (
          <Button
            onClick={() => {
              select([`zone:${tray.zoneId}`]);
              onPart('zones');
            }}
          >
            Go to its zone
          </Button>
        ) : null}
        {shelf.length > 0 ? (
          <Button onClick={() => onPart('load')}>Go to load and mains</Button>
        ) : null}
      </div>
    </div>
  );
}
