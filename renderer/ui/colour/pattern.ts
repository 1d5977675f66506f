import type { PatternName } from './palette';

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
