import { clock, DAY_S, reservoirVerdict, type PumpRun } from '../../derive';
import { editFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { FieldRow, figures as digits, fixed, NumberField, Section, Table } from '../../ui';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';

/** All zones together: when each floods, what is drawn from the reservoirs, energy of the pumps. */
export function DayPart({ plan, flood, figures }: Flood) {
  const dispatch = useDispatch();
  const { zones, overlaps } = figures;
  const price = plan.light.electricityPricePerKwh;
  const kwh = zones.reduce((sum, z) => sum + z.kwhPerDay, 0);
  const use = (patch: Partial<typeof flood.use>) =>
    dispatch(editFlood, { patch: { use: { ...flood.use, ...patch } } });
  return (
    <>
      <Section title="The pumps’ day" testId="flood-day">
        <svg
          className="flood-timeline"
          viewBox={`0 0 360 ${zones.length * 16 + 18}`}
          role="img"
          aria-label={zones.map((z) => `${z.zone.name} floods ${z.runs.length} times`).join('; ')}
        >
          {zones.map((z, i) => (
            <g key={z.zone.id}>
              <text x={0} y={i * 16 + 11}>
                {z.zone.name.slice(0, 14)}
              </text>
              <path className="course-frame" d={`M92,${i * 16 + 13} H354`} />
              {z.runs.map((run) => (
                <rect
                  key={run.startS}
                  className="timeline-run"
                  x={92 + (run.startS / DAY_S) * 262}
                  y={i * 16 + 3}
                  width={Math.max(1.5, ((Math.min(run.endS, DAY_S) - run.startS) / DAY_S) * 262)}
                  height={9}
                />
              ))}
            </g>
          ))}
          {[0, 6, 12, 18, 24].map((hour) => (
            <text
              key={hour}
              x={92 + (hour / 24) * 262}
              y={zones.length * 16 + 14}
              textAnchor="middle"
            >
              {hour}
            </text>
          ))}
        </svg>
        {overlaps.length > 0 ? (
          <ul className="field-remark">
            {overlaps.map((o) => (
              <li key={o.zoneIds.join()}>
                {o.names.join(' and ')} flood together, first {firstTime(o.times)}:{' '}
                {digits(o.pumpsW)} W of pumps.
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
            { key: 'draw', head: 'Draw', unit: 'L', numeric: true, cell: (z) => fixed(z.drawL, 1) },
            {
              key: 'use',
              head: 'Used',
              unit: 'L, estimate',
              numeric: true,
              cell: (z) => fixed(z.uptakeL + z.evaporationL, 1),
            },
            {
              key: 'least',
              head: 'Least reservoir',
              unit: 'L',
              numeric: true,
              cell: (z) => fixed(z.leastReservoirL, 1),
            },
            {
              key: 'has',
              head: 'Has',
              unit: 'L',
              numeric: true,
              cell: (z) => fixed(z.zone.reservoirL, 0),
            },
            {
              key: 'h',
              head: 'Pump',
              unit: 'h/day',
              numeric: true,
              cell: (z) => fixed(z.pumpHoursPerDay, 2),
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
          pipe + what is used up between two top-ups + what the pump cannot reach). The pumps take{' '}
          {digits(kwh)} kWh a day
          {price === null ? '' : `, ${fixed(kwh * price, 2)} ${plan.light.currency}`}.
        </p>
        <Verdicts verdicts={zones.map(reservoirVerdict).filter((v) => v.level !== 'good')} />
        <FieldRow>
          <NumberField
            label="Uptake (estimate)"
            unit="mL/pot/day"
            value={flood.use.uptakeMlPerPotDay}
            lowest={0}
            highest={10000}
            step={10}
            onCommit={(uptakeMlPerPotDay) => use({ uptakeMlPerPotDay })}
          />
          <NumberField
            label="Evaporation while wet"
            unit="mm/day"
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

function firstTime(times: readonly PumpRun[]): string {
  const [first] = times;
  return first ? `from ${clock(first.startS / 3600)} to ${clock(first.endS / 3600)}` : '';
}
