import { duration, trayVerdicts, type TrayFlood } from '../../derive';
import { editFlood } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import {
  Facts,
  FieldRow,
  figures as digits,
  fixed,
  NumberField,
  percent,
  Section,
  Select,
  Table,
} from '../../ui';
import { DepthCourse } from './DepthCourse';
import { TrayInSection } from './TrayInSection';
import type { Flood } from './useFlood';
import { chosenTrayId } from './useFlood';
import { Verdicts } from './Verdicts';

/** All flooded trays in a table, and the chosen one with its section, day and verdicts. */
export function TrayPart({ plan, flood, figures }: Flood) {
  const selection = useSession((s) => s.selection);
  const select = useSession((s) => s.select);
  const trays = [...figures.trays.values()];
  const chosenId = chosenTrayId(selection);
  const chosen = trays.find((t) => t.trayId === chosenId) ?? trays[0];
  if (!chosen) return null;
  const time = (s: number | null) => (s === null ? 'never' : duration(s));
  return (
    <>
      <Section title="Trays" testId="flood-trays">
        <Table
          caption="Flooding by tray"
          rows={trays}
          rowKey={(t) => t.trayId}
          isMarked={(t) => t === chosen}
          onRowClick={(t) => select([`tray:${t.trayId}`])}
          testId="flood-table"
          columns={[
            { key: 'tray', head: 'Tray', cell: (t) => <TrayName tray={t} bad={isBad(t)} /> },
            { key: 'v', head: 'Water', unit: 'L', numeric: true, cell: (t) => fixed(t.firstL, 1) },
            {
              key: 'q',
              head: 'Inflow',
              unit: 'L/min',
              numeric: true,
              cell: (t) => fixed(t.inflowLMin, 1),
            },
            { key: 'fill', head: 'Fills in', numeric: true, cell: (t) => time(t.fillFirstS) },
            { key: 'drain', head: 'Drains in', numeric: true, cell: (t) => time(t.drainS) },
            {
              key: 'peak',
              head: 'Peak',
              unit: 'mm',
              numeric: true,
              cell: (t) => fixed(t.peakMm, 0),
            },
            { key: 'wet', head: 'Wet time', numeric: true, cell: (t) => percent(t.wetTime, 1) },
          ]}
        />
      </Section>
      <Section title={`Tray ${chosen.code}`} testId="flood-tray">
        <TrayInSection
          tray={chosen}
          rootZoneTopMm={flood.rootZoneTopMm}
          leafLineMm={flood.leafLineMm}
          lengths={plan.display.lengths}
        />
        <Verdicts verdicts={trayVerdicts(flood, chosen)} />
        <DepthCourse tray={chosen} />
        <Facts
          rows={[
            [
              'Water from dry, from drained',
              `${digits(chosen.firstL)} L, ${digits(chosen.laterL)} L`,
            ],
            ['Root zone under water, mean of the day', percent(chosen.wetMean, 1)],
            ['Lift to the crest', `${fixed(chosen.liftM, 2)} m`],
            ...(chosen.siphon
              ? [
                  [
                    'Siphon running full, at crest and at break',
                    `${digits(chosen.siphon.fullAtCrestLMin)} and ${digits(chosen.siphon.fullAtBreakLMin)} L/min`,
                  ] as const,
                ]
              : []),
          ]}
        />
        <SlopeFields flood={flood} trayId={chosen.trayId} />
      </Section>
    </>
  );

  function isBad(tray: TrayFlood): boolean {
    return trayVerdicts(flood, tray).some((v) => v.level === 'bad');
  }
}

function TrayName({ tray, bad }: { tray: TrayFlood; bad: boolean }) {
  return (
    <>
      {tray.code}
      {bad ? <strong className="flood-bad"> !</strong> : null}
    </>
  );
}

function SlopeFields({ flood, trayId }: { flood: Flood['flood']; trayId: string }) {
  const dispatch = useDispatch();
  const slope = flood.slopes.find((s) => s.trayId === trayId) ?? {
    trayId,
    rightMmPerM: 0,
    backMmPerM: 0,
    drainAt: 'lowest' as const,
  };
  const set = (patch: Partial<typeof slope>) => {
    const others = flood.slopes.filter((s) => s.trayId !== trayId);
    const next = { ...slope, ...patch };
    const level = next.rightMmPerM === 0 && next.backMmPerM === 0;
    dispatch(editFlood, { patch: { slopes: level ? others : [...others, next] } });
  };
  return (
    <FieldRow>
      <NumberField
        label="Rises to the right"
        unit="mm/m"
        value={slope.rightMmPerM}
        lowest={-100}
        highest={100}
        testId="slope-right"
        onCommit={(rightMmPerM) => set({ rightMmPerM })}
      />
      <NumberField
        label="Rises to the back"
        unit="mm/m"
        value={slope.backMmPerM}
        lowest={-100}
        highest={100}
        testId="slope-back"
        onCommit={(backMmPerM) => set({ backMmPerM })}
      />
      <Select
        label="Drain stands"
        value={slope.drainAt}
        options={[
          { value: 'lowest', label: 'at the lowest corner' },
          { value: 'middle', label: 'half way' },
          { value: 'highest', label: 'at the highest corner' },
        ]}
        onCommit={(drainAt) => set({ drainAt })}
      />
    </FieldRow>
  );
}
