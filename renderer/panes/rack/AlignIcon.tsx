import type { Alignment } from '../../../shared-types/window/arranging';

/** A line and two bars that meet it, on 18 × 18. */
const PATHS: Readonly<Record<Alignment, string>> = {
  left: 'M3 2 V16 M3 4 H14 V8 H3 M3 10.5 H9 V14.5 H3',
  centre: 'M9 2 V4 M9 8 V10.5 M9 14.5 V16 M3.5 4 H14.5 V8 H3.5 Z M6 10.5 H12 V14.5 H6 Z',
  right: 'M15 2 V16 M15 4 H4 V8 H15 M15 10.5 H9 V14.5 H15',
  front: 'M2 15 H16 M4 15 V4 H8 V15 M10.5 15 V9 H14.5 V15',
  middle: 'M2 9 H4 M8 9 H10.5 M14.5 9 H16 M4 3.5 H8 V14.5 H4 Z M10.5 6 H14.5 V12 H10.5 Z',
  back: 'M2 3 H16 M4 3 V14 H8 V3 M10.5 3 V9 H14.5 V3',
  lowest: 'M2 12 H16 M3 12 V9.5 H8 V12 M10 12 V9.5 H15 V12 M12.5 3 V7 M11 5.5 L12.5 7 L14 5.5',
  highest: 'M2 5 H16 M3 5 V7.5 H8 V5 M10 5 V7.5 H15 V5 M12.5 15 V11 M11 12.5 L12.5 11 L14 12.5',
};

export function AlignIcon({ of }: { of: Alignment }) {
  return (
    <svg className="tool-icon" width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
      <path d={PATHS[of]} />
    </svg>
  );
}
