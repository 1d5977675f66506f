import { useState } from 'react';
import { startFlood } from '../../document/commands';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState, Segmented } from '../../ui';
import { CropPart } from './tray/CropPart';
import { DayPart } from './DayPart';
import './flood.css';
import { LoadPart } from './LoadPart';
import { OverviewPart } from './overview/OverviewPart';
import { TrayPart } from './tray/TrayPart';
import { traysOf, useFlood } from './useFlood';
import { ZonePart } from './ZonePart';

const parts = [
  { value: 'overview', label: 'Overview' },
  { value: 'trays', label: 'Trays' },
  { value: 'zones', label: 'Zones' },
  { value: 'day', label: 'Day' },
  { value: 'load', label: 'Load & mains' },
] as const;
type Part = (typeof parts)[number]['value'];

/** Everything about the water: figures and verdicts by tray, zones, the day, load and mains. */
export function FloodSide() {
  const flood = useFlood();
  const selection = useSession((s) => s.selection);
  const [part, setPart] = useState<Part>(partAbout(selection) ?? 'overview');
  const [seen, setSeen] = useState(selection);
  if (selection !== seen) {
    setSeen(selection);
    const about = partAbout(selection);
    // Who is at work on a zone picks its trays on the rack without leaving it.
    const stays = about === 'trays' ? 'zones' : about === 'zones' ? 'overview' : null;
    if (about && part !== stays) setPart(about);
  }
  if (!flood) return <NotBegun />;
  return (
    <div className="flood-side">
      <div className="flood-parts">
        <Segmented
          label="Part of the flooding"
          value={part}
          options={parts}
          onChoose={setPart}
          testId="flood-parts"
        />
      </div>
      {part === 'overview' ? (
        <OverviewPart {...flood} />
      ) : part === 'trays' ? (
        <>
          <TrayPart {...flood} onPart={setPart} />
          <CropPart {...flood} />
        </>
      ) : part === 'zones' ? (
        <ZonePart {...flood} />
      ) : part === 'day' ? (
        <DayPart {...flood} />
      ) : (
        <LoadPart {...flood} />
      )}
    </div>
  );
}

/** Where what is selected is told of; null where nothing is. */
function partAbout(selection: readonly string[]): Part | null {
  const has = (kind: string) => selection.some((ref) => ref.startsWith(`${kind}:`));
  if (has('shelf')) return 'load';
  if (has('zone')) return 'zones';
  return has('tray') || has('pot') ? 'trays' : null;
}

function NotBegun() {
  const dispatch = useDispatch();
  const goTo = useSession((s) => s.goTo);
  const plan = usePlanStore((s) => s.plan);
  if (!plan || traysOf(plan).length === 0) {
    return (
      <EmptyState
        title="No tray to flood"
        actions={
          <Button tone="primary" onClick={() => goTo('rack')}>
            Go to the rack
          </Button>
        }
      >
        Draw shelves and trays first: the water is reckoned from their sizes and pots.
      </EmptyState>
    );
  }
  return (
    <EmptyState
      title="No flooding planned"
      actions={
        <Button tone="primary" data-testid="start-flood" onClick={() => dispatch(startFlood, {})}>
          Plan the flooding
        </Button>
      }
    >
      State reservoir, pump and drain, and the program tells how long every tray takes to fill and
      drain, what the reservoir must hold and what the shelves carry.
    </EmptyState>
  );
}
