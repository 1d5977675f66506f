import { useId } from 'react';
import type { TreatmentLook } from './palette';
import { patternPath } from './pattern';

/** The look of a treatment as a small tile with its letter. */
export function Swatch(props: { look: TreatmentLook; letter: string; size?: number }) {
  const id = useId();
  const size = props.size ?? 20;
  return (
    <svg className="swatch" width={size} height={size} viewBox="0 0 20 20" aria-hidden="true">
      <defs>
        <pattern id={id} width="8" height="8" patternUnits="userSpaceOnUse">
          <path
            d={patternPath(props.look.pattern)}
            stroke={props.look.ink}
            strokeOpacity="0.55"
            fill="none"
          />
        </pattern>
      </defs>
      <rect width="20" height="20" rx="3" fill={props.look.colour} />
      <rect width="20" height="20" rx="3" fill={`url(#${id})`} />
      <rect x="4.5" y="4" width="11" height="12" rx="2" fill={props.look.colour} />
      <text
        x="10"
        y="14.2"
        textAnchor="middle"
        fontSize="11.5"
        fontWeight="700"
        fill={props.look.ink}
      >
        {props.letter}
      </text>
    </svg>
  );
}
