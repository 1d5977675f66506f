import type { FloodPlan } from '../../../../shared-types/flood';
import { needsAndGets, trayVerdicts, type Margin, type TrayFlood } from '../../../derive';
import { editFlood } from '../../../document/commands';
import { useDispatch, useSession } from '../../../store/context';
import {
  Button,
  EmptyState,
  Facts,
  FieldList,
  figureColumn,
  Section,
  Table,
  type FieldOf,
} from '../../../ui';
import { AroundTray } from './AroundTray';
import { DepthCourse } from './DepthCourse';
import { NoZone } from '../NoZone';
import { TrayInSection } from './TrayInSection';
import type { Flood } from '../useFlood';
import { chosenTrayId } from '../useFlood';
import { Verdicts } from '../Verdicts';
import {
  duration,
  fixed,
  formatShare as shareWords,
  percent,
  type Quantity,
  shownIn,
  speechIn,
  unitOf,
  type UnitSystem,
} from '../../../words';

/** All flooded trays in a table, and the chosen one with its section, day and verdicts. */
export function TrayPart({
  plan,
  flood,
  figures,
  onPart,
}: Flood & { onPart: (part: 'zones' | 'load') => void }) {
  const selection = useSession((s) => s.selection);
  const trays = [...figures.trays.values()];
  const chosenId = chosenTrayId(selection);
  const chosen = trays.find((t) => t.trayId === chosenId) ?? trays[0];
  if (figures.zones.length === 0) return <NoZone />;
  if (!chosen) {
    return (
      <EmptyState
        title="No zone floods a tray"
        actions={
          <Button tone="primary" onClick={() => onPart('zones')}>
            Go to the zones
          </Button>
        }
      >
        Tick the trays that each zone floods, and what the water does in them stands here.
      </EmptyState>
    );
  }
  const system = plan.display.lengths;
  const say = speechIn(system);
  return (
    <>
      <Section title="Trays" testId="flood-trays">
        <TrayTable
          trays={trays}
          chosen={chosen}
          system={system}
          isBad={(tray) => trayVerdicts(flood, tray, say).some((v) => v.level === 'bad')}
        />
      </Section>
      <Section title={`Tray ${chosen.code}`} testId="flood-tray">
        <TrayInSection
          tray={chosen}
          rootZoneTopMm={flood.rootZoneTopMm}
          leafLineMm={flood.leafLineMm}
          system={system}
        />
        <Verdicts verdicts={trayVerdicts(flood, chosen, say)} />
        <AroundTray tray={chosen} figures={figures} say={say} onPart={onPart} />
        <DepthCourse tray={chosen} system={system} />
        <Facts
          rows={[
            [
              'Water from dry, from drained',
              `${say.volume(chosen.firstL)}, ${say.volume(chosen.laterL)}`,
            ],
            ['Root zone under water, mean of the day', percent(chosen.wetMean, 1)],
            ['Lift to the flood depth', say.run(chosen.liftM)],
            ...(chosen.siphon
              ? [
                  [
                    'Siphon running full, at flood depth and at break',
                    `${say.flow(chosen.siphon.fullAtCrestLMin)} and ${say.flow(chosen.siphon.fullAtBreakLMin)}`,
                  ] as const,
                ]
              : []),
          ]}
        />
        <SlopeFields flood={flood} system={system} trayId={chosen.trayId} />
      </Section>
    </>
  );
}

function TrayTable(props: {
  trays: readonly TrayFlood[];
  chosen: TrayFlood;
  system: UnitSystem;
  isBad: (tray: TrayFlood) => boolean;
}) {
  const { trays, chosen, system, isBad } = props;
  const select = useSession((s) => s.select);
  const shown = (quantity: Quantity, value: number, decimals: number) =>
    fixed(shownIn(quantity, system, value), decimals);
  return (
    <Table<TrayFlood>
      caption="Flooding by tray"
      rows={trays}
      rowKey={(t) => t.trayId}
      isMarked={(t) => t === chosen}
      onRowClick={(t) => select([`tray:${t.trayId}`])}
      testId="flood-table"
      columns={[
        { key: 'tray', head: 'Tray', cell: (t) => <TrayName tray={t} bad={isBad(t)} /> },
        figureColumn('Water', (t) => shown('volume', t.firstL, 1), unitOf('volume', system)),
        figureColumn('Inflow', (t) => shown('flow', t.inflowLMin, 1), unitOf('flow', system)),
        figureColumn(
          'Fills in',
          (t) => <Timed tray={t} needsS={t.fillFirstS} getsS={t.onS} margin={t.fillMargin} />,
          'and margin',
        ),
        figureColumn(
          'Drains in',
          (t) => <Timed tray={t} needsS={t.drainS} getsS={t.pauseS} margin={t.drainMargin} />,
          'and margin',
        ),
        figureColumn(
          'Peak',
          (t) => shown('length', t.peakMm, system === 'metric' ? 0 : 2),
          unitOf('length', system),
        ),
        figureColumn('Wet time', (t) => percent(t.wetTime, 1)),
      ]}
    />
  );
}

function TrayName({ tray, bad }: { tray: TrayFlood; bad: boolean }) {
  return (
    <>
      {tray.code}
      {bad ? <strong className="flood-bad"> !</strong> : null}
    </>
  );
}

/** A time with what is over of the time there is; or with that time, where it is too short. */
function Timed(props: {
  tray: TrayFlood;
  needsS: number | null;
  getsS: number | null;
  margin: Margin | null;
}) {
  const { tray, needsS, getsS, margin } = props;
  if (tray.inflowLMin <= 0) return <>no water</>;
  if (needsS === null) return <>never</>;
  if (getsS !== null && getsS > 0 && needsS > getsS) return <>{needsAndGets(needsS, getsS)}</>;
  if (!margin) return <>{duration(needsS)}</>;
  return (
    <span className="flood-timed">
      {duration(needsS)}
      <span className="flood-margin">{shareWords(margin.share)}</span>
    </span>
  );
}

const STEEPEST = { quantity: 'slope', lowest: -100, highest: 100 } as const;

const SLOPE: readonly FieldOf<FloodPlan['slopes'][number]>[] = [
  {
    as: 'quantity',
    key: 'rightMmPerM',
    label: 'Rises to the right',
    ...STEEPEST,
    testId: 'slope-right',
  },
  {
    as: 'quantity',
    key: 'backMmPerM',
    label: 'Rises to the back',
    ...STEEPEST,
    testId: 'slope-back',
  },
  {
    as: 'choice',
    key: 'drainAt',
    label: 'Drain stands',
    options: [
      { value: 'lowest', label: 'at the lowest corner' },
      { value: 'middle', label: 'half way' },
      { value: 'highest', label: 'at the highest corner' },
    ],
  },
];

function SlopeFields(props: { flood: Flood['flood']; system: UnitSystem; trayId: string }) {
  const { flood, system, trayId } = props;
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
  return <FieldList of={slope} fields={SLOPE} system={system} onChange={set} />;
}
