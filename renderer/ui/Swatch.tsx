import { useId } from 'react';
import type { PatternName, TreatmentLook } from './palette';

/** Strokes of a pattern in a square of 8 × 8, drawn over the treatment's colour. */
export function patternPath(pattern: PatternName): string {
  switch (pattern) {
    case 'plain':
      return '';
    case 'lines-right':
      return 'M-2,2 L2,-2 M0,8 L8,0 M6,10 L10,6';
    case 'lines-left':
      return 'M-2,6 L2,10 M0,0 L8,8 M6,-2 L10,2';
    case 'cross':
      return 'M0,8 L8,0 M0,0 L8,8';
    case 'level':
      return 'M0,4 L8,4';
    case 'upright':
      return 'M4,0 L4,8';
    case 'dots':
      return 'M3,4 a1,1 0 1 0 2,0 a1,1 0 1 0 -2,0';
    case 'rings':
      return 'M1.5,4 a2.5,2.5 0 1 0 5,0 a2.5,2.5 0 1 0 -5,0';
  }
}

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
