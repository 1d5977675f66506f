import type { RackThumbnail } from '../../../shared-types/window/rackThumbnail';
import type { RecentPlan } from '../../host/host';
import { useKept } from '../../store/context';
import { Button } from '../../ui';
import { plural } from '../../words';
import { RECENT_PICTURES } from './recentPictures';

/** Two rows; older ones are opened as files. */
const SHOWN = 8;

/** The plans that were open last, each with its rack in small, to go on with or to start from. */
export function RecentPlans(props: {
  recents: readonly RecentPlan[];
  onOpen: (recent: RecentPlan) => void;
  onStartFrom: (recent: RecentPlan) => void;
}) {
  const [pictures] = useKept(RECENT_PICTURES);
  return (
    <section aria-label="Recent plans">
      <h2>Recent plans</h2>
      <ul className="start-recents">
        {props.recents.slice(0, SHOWN).map((recent) => {
          const { key, name } = recent.ref;
          const known = pictures.find((one) => one.key === key);
          return (
            <li key={key} className="start-recent">
              <button
                type="button"
                className="start-choice start-recent-open"
                onClick={() => props.onOpen(recent)}
              >
                <Thumbnail picture={known?.picture ?? null} />
                <span>
                  <strong>{known?.title ?? name}</strong>
                  {known ? (
                    <span>
                      {plural(known.pots, 'pot')} · {plural(known.shelves, 'shelf', 'shelves')}
                    </span>
                  ) : null}
                  <span className="start-file">{name}</span>
                </span>
              </button>
              <Button
                tone="quiet"
                aria-label={`Start the next trial from ${known?.title ?? name}`}
                onClick={() => props.onStartFrom(recent)}
              >
                Next trial from this
              </Button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Decoration: the title and the counts beside it say what it shows. */
function Thumbnail({ picture }: { picture: RackThumbnail | null }) {
  return (
    <svg
      className="thumbnail"
      aria-hidden
      viewBox={picture ? `-2 -2 ${picture.w + 4} ${picture.h + 4}` : '0 0 10 10'}
      preserveAspectRatio="xMidYMid meet"
    >
      {picture?.rects.map(({ kind, x, y, w, h }, i) => (
        <rect key={i} className={`thumbnail-${kind}`} x={x} y={y} width={w} height={h} />
      ))}
    </svg>
  );
}
