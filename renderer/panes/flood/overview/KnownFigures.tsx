import type { Drain, FloodWindow, FloodZone } from '../../../../shared-types/flood';
import type { TrayFlood, ZoneFlood } from '../../../derive';
import { LengthField, NumberField, QuantityField, Button } from '../../../ui';
import type { UnitSystem } from '../../../words';
import { TubInSection } from './TubInSection';

/** The bore through which a tray empties, and how it is set. */
function outletOf(drain: Drain): { label: string; boreMm: number; set: (mm: number) => Drain } {
  switch (drain.kind) {
    case 'standpipe':
      return {
        label: 'Drain, standpipe bore',
        boreMm: drain.returnBoreMm,
        set: (returnBoreMm) => ({ ...drain, returnBoreMm }),
      };
    case 'siphon':
      return {
        label: 'Drain, siphon bore',
        boreMm: drain.boreMm,
        set: (boreMm) => ({ ...drain, boreMm }),
      };
    case 'valve':
      return {
        label: 'Drain, valve bore',
        boreMm: drain.boreMm,
        set: (boreMm) => ({ ...drain, boreMm }),
      };
  }
}

/** How long the pump runs, and how often. */
export type Hours = Partial<Pick<FloodWindow, 'onMinutes' | 'everyMinutes'>>;

/** The four figures that one knows of a flooded tray, around a picture of it. */
export function KnownFigures(props: {
  zone: FloodZone;
  found: ZoneFlood;
  tray: TrayFlood;
  system: UnitSystem;
  onChange: (patch: Partial<Omit<FloodZone, 'id'>>) => void;
  /** Of the first hours of the day. */
  onHours: (patch: Hours) => void;
}) {
  const { zone, found, tray, system, onChange, onHours } = props;
  const [window] = zone.schedule;
  const outlet = outletOf(zone.drain);
  return (
    <div className="known-figures">
      <div className="known-drain">
        <LengthField
          label={outlet.label}
          system={system}
          valueMm={outlet.boreMm}
          lowestMm={1}
          testId="known-drain"
          onCommit={(mm) => onChange({ drain: outlet.set(mm) })}
        />
      </div>
      <div className="known-clock">
        {window ? (
          <>
            <NumberField
              label="Pump on"
              unit="min"
              lowest={0.1}
              highest={1440}
              value={window.onMinutes}
              testId="known-on"
              onCommit={(onMinutes) => onHours({ onMinutes })}
            />
            <NumberField
              label="Every"
              unit="min"
              lowest={1}
              highest={1440}
              value={window.everyMinutes}
              testId="known-every"
              onCommit={(everyMinutes) => onHours({ everyMinutes })}
            />
          </>
        ) : (
          <Button
            data-testid="state-hours"
            onClick={() =>
              onChange({
                schedule: [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 15 }],
              })
            }
          >
            State the hours
          </Button>
        )}
      </div>
      <div className="known-reservoir">
        <QuantityField
          label="Reservoir"
          quantity="volume"
          system={system}
          value={zone.reservoirL}
          lowest={0.1}
          highest={100_000}
          testId="known-reservoir"
          onCommit={(reservoirL) => onChange({ reservoirL })}
        />
      </div>
      <TubInSection tray={tray} found={found} system={system} />
    </div>
  );
}
