import { useState } from 'react';
import { startFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, EmptyState, Segmented } from '../../ui';
import { CropPart } from './CropPart';
import { DayPart } from './DayPart';
import './flood.css';
import { LoadPart } from './LoadPart';
import { TrayPart } from './TrayPart';
import { useFlood } from './useFlood';
import { ZonePart } from './ZonePart';

const parts = [
  { value: 'trays', label: 'Trays' },
  { value: 'zones', label: 'Zones' },
  { value: 'day', label: 'Day' },
  { value: 'load', label: 'Load & mains' },
] as const;

/** Everything about the water: figures and verdicts by tray, zones, the day, load and mains. */
export function FloodSide() {
  const flood = useFlood();
  const dispatch = useDispatch();
  const [part, setPart] = useState<(typeof parts)[number]['value']>('trays');
  if (!flood) {
    return (
      <EmptyState
        title="No flooding planned yet"
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
  return (
    <>
      <div className="flood-parts">
        <Segmented
          label="Part of the flooding"
          value={part}
          options={parts}
          onChoose={setPart}
          testId="flood-parts"
        />
      </div>
      {part === 'trays' ? (
        <>
          <TrayPart {...flood} />
          <CropPart {...flood} />
        </>
      ) : part === 'zones' ? (
        <ZonePart {...flood} />
      ) : part === 'day' ? (
        <DayPart {...flood} />
      ) : (
        <LoadPart {...flood} />
      )}
    </>
  );
}
