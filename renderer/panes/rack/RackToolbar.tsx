import type { Tool } from '../../canvas';
import { usePlanStore, useSession } from '../../store';
import { Button } from '../../ui';
import { TreatedSwitch } from '../shared/TreatedSwitch';
import { ToolIcon } from './ToolIcon';
import { ViewSwitch } from './ViewSwitch';
import './rack.css';

const TOOLS: readonly { tool: Tool; label: string; hint: string; aboveOnly?: boolean }[] = [
  { tool: 'select', label: 'Select', hint: 'Select, move and resize (V)' },
  { tool: 'shelf', label: 'Shelf', hint: 'Add a shelf: click, or drag its size (S)' },
  { tool: 'tray', label: 'Tray', hint: 'Add a tray to a shelf: click, or drag its size (T)' },
  { tool: 'pots', label: 'Pots', hint: 'Fill a tray, or the part you drag over, with pots (P)' },
  { tool: 'lamp', label: 'Lamp', hint: 'Hang a lamp over a shelf: click its middle (L)' },
  {
    tool: 'board',
    label: 'Board',
    hint: 'Part a shelf with a board: click its place, or drag along it (B)',
  },
  {
    tool: 'guard',
    label: 'Guard',
    hint: 'Click or brush over pots to make guard pots (G)',
    aboveOnly: true,
  },
  {
    tool: 'hole',
    label: 'Hole',
    hint: 'Click or brush over holes to leave them empty (H)',
    aboveOnly: true,
  },
];

/** View and tools of the rack stage. */
export function RackToolbar() {
  const tool = useSession((s) => s.tool);
  const view = useSession((s) => s.view);
  const takeTool = useSession((s) => s.takeTool);
  const empty = usePlanStore((s) => (s.plan?.rack.shelves.length ?? 0) === 0);
  return (
    <div className="rack-toolbar">
      <ViewSwitch />
      <TreatedSwitch />
      <div className="rack-tools" role="toolbar" aria-label="Tools">
        {TOOLS.map(({ tool: name, label, hint, aboveOnly }) => (
          <Button
            key={name}
            tone="quiet"
            pressed={tool === name}
            title={hint}
            aria-label={label}
            data-testid={`tool-${name}`}
            disabled={(aboveOnly === true && view === 'front') || (empty && !/^s/.test(name))}
            onClick={() => takeTool(tool === name ? 'select' : name)}
          >
            <ToolIcon tool={name} />
            <span className="tool-word">{label}</span>
          </Button>
        ))}
      </div>
    </div>
  );
}
