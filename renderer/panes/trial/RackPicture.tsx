import type { PictureChannel, PictureShelf, PictureOfRack as Picture } from '../../derive';
import { treatmentColours } from '../../ui';

/** Colours of each kind of mark, in an order of its own, so that lamps, trays and pots differ. */
const ORDER: Record<PictureChannel, readonly number[]> = {
  bar: [1, 0, 5, 7, 2, 3],
  ground: [2, 3, 6, 4, 0, 5],
  dot: [4, 5, 7, 0, 1, 3, 2, 6],
};

function colourOf(channel: PictureChannel, shown: number | null): string {
  const order = ORDER[channel];
  const at = shown === null ? undefined : order[shown % order.length];
  return (at === undefined ? undefined : treatmentColours[at]) ?? 'var(--line-strong)';
}

/** Lamps over a shelf, in the picture's own measure: a share of the shelf's width. */
const BAR_SHARE = 0.045;
const GAP_SHARE = 0.03;

/** The rack in small: a shelf is seen from above, under the lamps that hang over it. */
export function RackPicture(props: { picture: Picture; label: string; small?: boolean }) {
  const { shelves } = props.picture;
  const widthMm = Math.max(1, ...shelves.map((shelf) => shelf.widthMm));
  const bar = widthMm * BAR_SHARE;
  const gap = widthMm * GAP_SHARE;
  const tops = shelves.reduce<number[]>(
    (all, { depthMm }) => [...all, (all.at(-1) ?? 0) + bar + depthMm + gap],
    [0],
  );
  return (
    <svg
      className={props.small ? 'rack-picture rack-picture-small' : 'rack-picture'}
      role="img"
      aria-label={props.label}
      preserveAspectRatio="xMinYMin meet"
      viewBox={`0 0 ${widthMm} ${tops.at(-1) ?? 1}`}
    >
      {shelves.map((shelf, i) => (
        <Shelf key={shelf.id} shelf={shelf} topMm={tops[i] ?? 0} barMm={bar} />
      ))}
    </svg>
  );
}

function Shelf(props: { shelf: PictureShelf; topMm: number; barMm: number }) {
  const { shelf, barMm } = props;
  // The front is below, as it is seen by who stands before the rack.
  const up = (yMm: number, deepMm: number): number => barMm + shelf.depthMm - yMm - deepMm;
  return (
    <g transform={`translate(0 ${props.topMm})`}>
      {shelf.bays.map(({ rect, shown }) => (
        <rect
          key={`${rect.xMm} ${rect.yMm}`}
          className="rack-picture-lamps"
          x={rect.xMm + barMm / 4}
          y={up(rect.yMm, rect.depthMm) - (rect.yMm + rect.depthMm >= shelf.depthMm ? barMm : 0)}
          width={Math.max(0, rect.widthMm - barMm / 2)}
          height={barMm * 0.8}
          fill={colourOf('bar', shown)}
        />
      ))}
      <rect className="rack-picture-shelf" y={barMm} width={shelf.widthMm} height={shelf.depthMm} />
      {shelf.trays.map(({ rect, shown }) => (
        <rect
          key={`${rect.xMm} ${rect.yMm}`}
          x={rect.xMm}
          y={up(rect.yMm, rect.depthMm)}
          width={rect.widthMm}
          height={rect.depthMm}
          fill={shown === null ? 'none' : colourOf('ground', shown)}
          fillOpacity="0.35"
          className="rack-picture-tray"
        />
      ))}
      {shelf.pots.map(({ xMm, yMm, radiusMm, shown }) => (
        <circle
          key={`${xMm} ${yMm}`}
          cx={xMm}
          cy={up(yMm, 0)}
          r={radiusMm * 0.8}
          fill={colourOf('dot', shown)}
        />
      ))}
      {shelf.boards.map((rect) => (
        <rect
          key={`${rect.xMm} ${rect.yMm}`}
          className="rack-picture-board"
          x={rect.xMm}
          y={up(rect.yMm, rect.depthMm) - barMm}
          width={rect.widthMm}
          height={rect.depthMm + barMm}
        />
      ))}
    </g>
  );
}

const channelWords: Record<PictureChannel, string> = {
  bar: 'lamps',
  ground: 'trays',
  dot: 'pots',
};

/** What stands for what in the picture. */
export function PictureKey({ picture }: { picture: Picture }) {
  return (
    <ul className="rack-picture-key">
      {picture.key.flatMap(({ channel, names }) =>
        names.map((name, i) => (
          <li key={`${channel} ${name}`}>
            <i
              className={`rack-picture-mark rack-picture-${channel}`}
              style={{ background: colourOf(channel, i) }}
              aria-hidden
            />
            {name}
            <span className="visually-hidden"> ({channelWords[channel]})</span>
          </li>
        )),
      )}
    </ul>
  );
}
