import type { Tool } from '../../canvas';

/** Small pictures of the tools, drawn on 18 × 18. */
const PATHS: Readonly<Record<Tool, string>> = {
  select: 'M4 2.5 L4 14.5 L7.4 11.4 L9.6 16 L11.6 15 L9.4 10.6 L14 10.4 Z',
  pan: 'M9 2 V16 M2 9 H16 M9 2 L7 4.5 M9 2 L11 4.5 M9 16 L7 13.5 M9 16 L11 13.5 M2 9 L4.5 7 M2 9 L4.5 11 M16 9 L13.5 7 M16 9 L13.5 11',
  shelf: 'M3 2 V16 M15 2 V16 M3 6 H15 M3 12.5 H15',
  tray: 'M2 6 L3.5 14 H14.5 L16 6 M2 6 H16',
  pots: 'M3 3 H8 L7 8 H4 Z M10 3 H15 L14 8 H11 Z M3 10.5 H8 L7 15.5 H4 Z M10 10.5 H15 L14 15.5 H11 Z',
  lamp: 'M2 5 H16 V8 H2 Z M5 10.5 L4 14.5 M9 10.5 V14.5 M13 10.5 L14 14.5',
  board: 'M2 15 H16 M8 2 H10 V13 H8 Z',
  guard: 'M9 2 A7 7 0 1 1 8.99 2 M9 5.5 A3.5 3.5 0 1 1 8.99 5.5',
  hole: 'M9 3 A6 6 0 1 1 8.99 3 M5 13 L13 5',
  reading: 'M9 2 V7 M9 11 V16 M2 9 H7 M11 9 H16',
};

export function ToolIcon({ tool }: { tool: Tool }) {
  return (
    <svg className="tool-icon" width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
      <path d={PATHS[tool]} />
    </svg>
  );
}
