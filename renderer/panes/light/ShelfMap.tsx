import { useMemo } from 'react';
import { pictureOf } from '../../derive';
import type { ShelfField } from '../../engine/light';
import { lightColour } from '../../ui';
import { rounded } from '../../words';

/** A small map of one shelf's light from above, front below, with lines of equal PPFD. */
export function ShelfMap(props: {
  title: string;
  said?: string;
  shelf: { widthMm: number; depthMm: number };
  field: ShelfField;
  /** PPFD at the two ends of the colours, shared by the maps side by side. */
  low: number;
  high: number;
}) {
  const { field, shelf, low, high } = props;
  const picture = useMemo(() => pictureOf(field, shelf), [field, shelf]);
  const span = high > low ? high - low : 1;
  const { stepXMm, stepYMm, contours } = picture;
  const up = (yMm: number) => shelf.depthMm - yMm;
  return (
    <figure className="light-map">
      <svg
        viewBox={`0 0 ${shelf.widthMm} ${shelf.depthMm}`}
        role="img"
        shapeRendering="crispEdges"
        aria-label={`Map of the light: ${props.title}`}
      >
        {Array.from(field.ppfd, (value, i) => (
          <rect
            key={i}
            x={(i % field.columns) * stepXMm}
            y={up((Math.floor(i / field.columns) + 1) * stepYMm)}
            width={stepXMm}
            height={stepYMm}
            fill={lightColour((value - low) / span)}
          />
        ))}
        {contours.map((contour) => (
          <path
            key={contour.level}
            d={contour.rings
              .map(
                (ring) =>
                  `M${ring.map(([x, y]) => `${rounded(x, 0)} ${rounded(up(y), 0)}`).join('L')}Z`,
              )
              .join('')}
            fill="none"
            shapeRendering="auto"
            stroke="rgb(255 255 255 / 65%)"
            strokeWidth={1}
            vectorEffect="non-scaling-stroke"
          />
        ))}
      </svg>
      <figcaption>
        {props.title}
        {props.said ? <span>{props.said}</span> : null}
      </figcaption>
    </figure>
  );
}

/** Lowest and highest of several fields. */
export function rangeOf(fields: readonly ShelfField[]): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (const { ppfd } of fields) {
    for (const value of ppfd) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return { low, high };
}
