import type { Drain, FloodZone } from '../../../shared-types/flood';
import { reservoirVerdict, trayVerdicts } from '../../derive';
import { addZone, editZone, removeZone } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import { Button, FieldList, FieldRow, Section, Select, TextField, type FieldOf } from '../../ui';
import { CheckboxList } from './CheckboxList';
import { NoZone } from './NoZone';
import { DrainFields } from './DrainFields';
import { ScheduleFields } from './ScheduleFields';
import { PumpCurve } from './PumpCurve';
import { traysOf, useChosenZone, type Flood } from './useFlood';
import { Verdicts } from './Verdicts';
import { speechIn, fieldNumber } from '../../words';

const drains: Record<Drain['kind'], Drain> = {
  standpipe: { kind: 'standpipe', overflowBoreMm: 40, returnBoreMm: 20, returnThrough: 'pump' },
  siphon: { kind: 'siphon', boreMm: 20, dropMm: 300, lossFactor: 3, tripFlowLMin: null },
  valve: { kind: 'valve', boreMm: 25 },
};

const VOLUME = { quantity: 'volume', highest: 100000 } as const;

const RESERVOIR: readonly FieldOf<FloodZone>[] = [
  {
    as: 'quantity',
    key: 'reservoirL',
    label: 'Reservoir',
    ...VOLUME,
    lowest: 0.1,
    testId: 'reservoir',
  },
  { as: 'quantity', key: 'deadVolumeL', label: 'Unusable volume', ...VOLUME, lowest: 0 },
  { as: 'length', key: 'reservoirLevelMm', label: 'Its water above the floor' },
];

const depthFields = (): readonly FieldOf<FloodZone>[] => [
  { as: 'length', key: 'floodDepthMm', label: 'Flood depth', lowestMm: 1, testId: 'crest' },
  { as: 'length', key: 'residualMm', label: 'Never drains below', lowestMm: 0 },
  {
    as: 'number',
    key: 'dischargeCoefficient',
    label: 'Discharge coefficient',
    lowest: 0.01,
    highest: 1,
    step: 0.01,
    remark: `about ${fieldNumber(0.61)} for a sharp edge`,
  },
];

const PIPE: readonly FieldOf<FloodZone['pipe']>[] = [
  {
    as: 'quantity',
    key: 'lengthM',
    label: 'Pipe length',
    quantity: 'run',
    lowest: 0,
    highest: 500,
  },
  { as: 'length', key: 'boreMm', label: 'Pipe bore', lowestMm: 1 },
  { as: 'number', key: 'lossFactor', label: 'Fittings, velocity heads', lowest: 0, highest: 1000 },
];

/** Everything stated about one zone: its trays, reservoir, pump, pipe, drain and schedule. */
export function ZonePart(flood: Flood) {
  const { plan } = flood;
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const chosen = useChosenZone(flood);
  const lengths = plan.display.lengths;
  const say = speechIn(lengths);
  const add = (
    <Button onClick={() => dispatch(addZone, {})} data-testid="add-zone">
      Add zone
    </Button>
  );
  if (!chosen) {
    return <NoZone />;
  }
  const { zone, found } = chosen;
  const set = (patch: Partial<Omit<FloodZone, 'id'>>) =>
    dispatch(editZone, { zoneId: zone.id, patch });
  const point = found.supply.point;
  return (
    <Section title="Zone" actions={add} testId="flood-zone">
      <FieldRow>
        <Select
          label="Zone"
          testId="zone-choice"
          value={zone.id}
          options={flood.flood.zones.map((z) => ({ value: z.id, label: z.name }))}
          onCommit={(id) => select([`zone:${id}`])}
        />
        <TextField label="Name" value={zone.name} onCommit={(name) => set({ name })} />
        <Button onClick={() => dispatch(removeZone, { zoneId: zone.id })}>Remove zone</Button>
      </FieldRow>
      <CheckboxList
        legend="Floods trays"
        things={traysOf(plan)}
        chosen={zone.trayIds}
        onChange={(trayIds) => set({ trayIds })}
      />
      <Verdicts
        verdicts={[
          reservoirVerdict(found, say),
          ...found.trays
            .flatMap((tray) => trayVerdicts(flood.flood, tray, say))
            .filter((v) => v.level === 'bad'),
        ]}
      />
      <FieldList of={zone} fields={RESERVOIR} system={lengths} onChange={set} />
      <FieldList of={zone} fields={depthFields()} system={lengths} onChange={set} />
      <Select
        label="Drain"
        testId="drain-kind"
        value={zone.drain.kind}
        options={[
          { value: 'standpipe', label: 'overflow standpipe' },
          { value: 'siphon', label: 'bell siphon' },
          { value: 'valve', label: 'valve, shut while the pump runs' },
        ]}
        onCommit={(kind) => set({ drain: drains[kind] })}
      />
      <DrainFields drain={zone.drain} lengths={lengths} onChange={(drain) => set({ drain })} />
      <PumpCurve pump={zone.pump} system={lengths} onChange={(pump) => set({ pump })} />
      <FieldList
        of={zone.pipe}
        fields={PIPE}
        system={lengths}
        onChange={(patch) => set({ pipe: { ...zone.pipe, ...patch } })}
      />
      <p className="field-remark">
        {point
          ? `The pump gives ${say.flow(point.flowLMin)} at ${say.run(point.headM)} of head, losses in the pipe included. `
          : 'The pump reaches none of these trays. '}
        Trays of a zone are taken to be throttled so that they fill together.
      </p>
      <ScheduleFields schedule={zone.schedule} onChange={(schedule) => set({ schedule })} />
    </Section>
  );
}
