import { clock, duration, reservoirVerdict, type PumpRun } from '../../derive';
import { editFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { FieldRow, NumberField, Section, Table } from '../../ui';
import { NoZone } from './NoZone';
import { QuantityField } from './QuantityField';
import { Timeline } from './Timeline';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import { figures as digits, fixed, list, percent, shownIn, speechIn, unitOf } from '../../words';

/** All zones together: when each floods, what is drawn from the reservoirs, energy of the pumps. */
export function DayPart({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const { zones, overlaps } = figures;
  if (zones.length === 0) return <NoZone />;
  const system = plan.display.lengths;
  const say = speechIn(system);
  const litre = unitOf('volume', system);
  const volume = (litres: number, decimals = 1) =>
    fixed(shownIn('volume', system, litres), decimals);
  const price = plan.light.electricityPricePerKwh;
  const kwh = zones.reduce((sum, z) => sum + z.kwhPerDay, 0);
  const use = (patch: Partial<typeof flood.use>) =>
    dispatch(editFlood, { patch: { use: { ...flood.use, ...patch } } });
  return (
    <>
      <Section title="The pumps’ day" testId="flood-day">
        <Timeline zones={zones} />
        {overlaps.length > 0 ? (
          <ul className="field-remark flood-overlaps" data-testid="flood-overlaps">
            {overlaps.map((o) => (
              <li key={o.zoneIds.join()}>
                {list(o.names)} flood together {sayTimes(o.times)}: {fixed(o.pumpsW, 0)} W of pumps.
              </li>
            ))}
          </ul>
        ) : (
          <p className="field-remark">No two zones flood at the same time.</p>
        )}
      </Section>
      <Section title="Reservoirs and pumps" testId="flood-reservoirs">
        <Table
          caption="Reservoirs and pumps by zone"
          rows={zones}
          rowKey={(z) => z.zone.id}
          columns={[
            { key: 'zone', head: 'Zone', cell: (z) => z.zone.name },
            { key: 'draw', head: 'Draw', unit: litre, numeric: true, cell: (z) => volume(z.drawL) },
            {
              key: 'use',
              head: 'Used',
              unit: `${litre}, est.`,
              numeric: true,
              cell: (z) => volume(z.uptakeL + z.evaporationL),
            },
            {
              key: 'spilt',
              head: 'Runs over',
              unit: litre,
              numeric: true,
              cell: (z) => volume(z.spilledL),
            },
            {
              key: 'least',
              head: 'Least reservoir',
              unit: litre,
              numeric: true,
              cell: (z) => volume(z.leastReservoirL),
            },
            {
              key: 'has',
              head: 'Has',
              unit: litre,
              numeric: true,
              cell: (z) => volume(z.zone.reservoirL, system === 'metric' ? 0 : 1),
            },
            {
              key: 'margin',
              head: 'Margin',
              unit: `${litre}, share`,
              numeric: true,
              cell: (z) =>
                z.margin.spare < 0
                  ? `${volume(-z.margin.spare)} short`
                  : `${volume(z.margin.spare)}, ${percent(z.margin.share)}`,
            },
            {
              key: 'h',
              head: 'Pump',
              unit: 'per day',
              numeric: true,
              cell: (z) => duration(z.pumpHoursPerDay * 3600),
            },
            {
              key: 'kwh',
              head: 'Energy',
              unit: 'kWh/day',
              numeric: true,
              cell: (z) => fixed(z.kwhPerDay, 3),
            },
          ]}
        />
        <p className="field-remark">
          The least reservoir is 1.2 × (all trays of the zone flooded from dry at once, with the
          pipe + what is used up, and what runs over, between two top-ups + what the pump cannot
          reach); the margin is what it has over that sum without the 1.2. The pumps take{' '}
          {digits(kwh)} kWh a day
          {price === null ? '' : `, ${fixed(kwh * price, 2)} ${plan.light.currency}`}.
        </p>
        <Verdicts
          verdicts={zones.map((z) => reservoirVerdict(z, say)).filter((v) => v.level !== 'good')}
        />
        <FieldRow>
          <QuantityField
            label="Uptake (estimate)"
            quantity="dose"
            system={system}
            per="/pot/day"
            value={flood.use.uptakeMlPerPotDay}
            lowest={0}
            highest={10000}
            step={10}
            onCommit={(uptakeMlPerPotDay) => use({ uptakeMlPerPotDay })}
          />
          <QuantityField
            label="Evaporation while wet"
            quantity="length"
            system={system}
            per="/day"
            value={flood.use.evaporationMmDay}
            lowest={0}
            highest={100}
            onCommit={(evaporationMmDay) => use({ evaporationMmDay })}
          />
          <NumberField
            label="Topped up every"
            unit="days"
            value={flood.use.topUpDays}
            lowest={0.1}
            highest={365}
            onCommit={(topUpDays) => use({ topUpDays })}
          />
        </FieldRow>
      </Section>
    </>
  );
}

const MOST_TIMES = 3;

function sayTimes(times: readonly PumpRun[]): string {
  const said = times
    .slice(0, MOST_TIMES)
    .map((t) => `from ${clock(t.startS / 3600)} to ${clock(t.endS / 3600)}`);
  const more = times.length - said.length;
  return said.join(', ') + (more > 0 ? ` and ${more} more times` : '');
}
