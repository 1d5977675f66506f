import type { FloodPlan } from '../../../shared-types/flood';
import { reservoirVerdict, type PumpRun, type ZoneFlood } from '../../derive';
import { editFlood } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { FieldList, figureColumn, Section, Table, type FieldOf } from '../../ui';
import { NoZone } from './NoZone';
import { Timeline } from './Timeline';
import type { Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import {
  clock,
  duration,
  figures as digits,
  fixed,
  list,
  percent,
  shownIn,
  speechIn,
  unitOf,
  fieldNumber,
} from '../../words';

const USE: readonly FieldOf<FloodPlan['use']>[] = [
  {
    as: 'quantity',
    key: 'uptakeMlPerPotDay',
    label: 'Uptake (estimate)',
    quantity: 'dose',
    per: '/pot/day',
    lowest: 0,
    highest: 10000,
    step: 10,
  },
  {
    as: 'quantity',
    key: 'evaporationMmDay',
    label: 'Evaporation while wet',
    quantity: 'length',
    per: '/day',
    lowest: 0,
    highest: 100,
  },
  {
    as: 'number',
    key: 'topUpDays',
    label: 'Topped up every',
    unit: 'days',
    lowest: 0.1,
    highest: 365,
  },
];

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
        <Table<ZoneFlood>
          caption="Reservoirs and pumps by zone"
          rows={zones}
          rowKey={(z) => z.zone.id}
          columns={[
            { key: 'zone', head: 'Zone', cell: (z) => z.zone.name },
            figureColumn('Draw', (z) => volume(z.drawL), litre),
            figureColumn('Used', (z) => volume(z.uptakeL + z.evaporationL), `${litre}, est.`),
            figureColumn('Runs over', (z) => volume(z.spilledL), litre),
            figureColumn('Least reservoir', (z) => volume(z.leastReservoirL), litre),
            figureColumn(
              'Has',
              (z) => volume(z.zone.reservoirL, system === 'metric' ? 0 : 1),
              litre,
            ),
            figureColumn(
              'Margin',
              (z) =>
                z.margin.spare < 0
                  ? `${volume(-z.margin.spare)} short`
                  : `${volume(z.margin.spare)}, ${percent(z.margin.share)}`,
              `${litre}, share`,
            ),
            figureColumn('Pump', (z) => duration(z.pumpHoursPerDay * 3600), 'per day'),
            figureColumn('Energy', (z) => fixed(z.kwhPerDay, 3), 'kWh/day'),
          ]}
        />
        <p className="field-remark">
          The least reservoir is {fieldNumber(1.2)} × (all trays of the zone flooded from dry at
          once, with the pipe + what is used up, and what runs over, between two top-ups + what the
          pump cannot reach); the margin is what it has over that sum without the {fieldNumber(1.2)}
          . The pumps take {digits(kwh)} kWh a day
          {price === null ? '' : `, ${fixed(kwh * price, 2)} ${plan.light.currency}`}.
        </p>
        <Verdicts
          verdicts={zones.map((z) => reservoirVerdict(z, say)).filter((v) => v.level !== 'good')}
        />
        <FieldList of={flood.use} fields={USE} system={system} onChange={use} />
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
