import type { FloodPlan, FloodZone } from '../../../../shared-types/flood';
import {
  alikeZonesOf,
  floodRemediesOf,
  setAlike,
  staggerRemedyOf,
  zoneSummary,
  type AlikeZones,
  type FloodRemedy,
  type Remedy,
  type TrayFlood,
} from '../../../derive';
import { editFlood } from '../../../document/commands';
import { useDispatch, useSession } from '../../../store/context';
import { Button, Fold, FieldList, Section, Select, type FieldOf } from '../../../ui';
import { fixed, list, plural, speechIn } from '../../../words';
import { NoZone } from '../NoZone';
import { useChosenZone, type Flood } from '../useFlood';
import { Verdicts } from '../Verdicts';
import { KnownFigures, type Hours } from './KnownFigures';

const DEPTH: readonly FieldOf<FloodZone>[] = [
  { as: 'length', key: 'floodDepthMm', label: 'Flood depth', lowestMm: 1, testId: 'fine-depth' },
  { as: 'length', key: 'residualMm', label: 'Never drains below', lowestMm: 0 },
];

const CROP: readonly FieldOf<FloodPlan>[] = [
  { as: 'length', key: 'rootZoneTopMm', label: 'Root zone up to', lowestMm: 0 },
  { as: 'length', key: 'leafLineMm', label: 'Leaf line', lowestMm: 0 },
  { as: 'share', key: 'leastWetShare', label: 'Wet at least, of the root zone' },
];

type Patch = Partial<Omit<FloodZone, 'id'>>;

const MOST_BUTTONS = 3;

/** The flooding at a glance: one picture, the four figures one knows, one verdict, what would mend it. */
export function OverviewPart(flood: Flood) {
  const { plan, figures } = flood;
  const dispatch = useDispatch();
  const chosen = useChosenZone(flood);
  const groups = alikeZonesOf(figures);
  const group = groups.find((some) => some.some(({ zone }) => zone.id === chosen?.zone.id));
  if (!chosen || !group) return <NoZone />;
  const system = plan.display.lengths;
  const trays = group.flatMap((found) => found.trays);
  const shown = lowest(trays);
  const zones = group.flatMap(({ zone }) => flood.flood.zones.filter(({ id }) => id === zone.id));
  const set = (patch: Patch) =>
    dispatch(
      setAlike(zones, () => patch),
      null,
    );
  const setHours = (patch: Hours) =>
    dispatch(
      setAlike(zones, ({ schedule }) => ({
        schedule: schedule.map((window, i) => (i === 0 ? { ...window, ...patch } : window)),
      })),
      null,
    );
  const remedies = floodRemediesOf(plan, chosen.zone.id).slice(0, MOST_BUTTONS);
  const verdicts = zoneSummary(flood.flood, group, speechIn(system));
  return (
    <Section title={titleOf(group, trays)} testId="flood-overview">
      {groups.length > 1 ? <GroupSelect groups={groups} chosen={group} /> : null}
      {shown ? (
        <KnownFigures
          zone={chosen.zone}
          found={group.find(({ zone }) => zone.id === shown.zoneId) ?? chosen.found}
          tray={shown}
          system={system}
          onChange={set}
          onHours={setHours}
        />
      ) : null}
      <Verdicts
        verdicts={remedies.length > 0 ? verdicts.map((v) => ({ ...v, remedy: '' })) : verdicts}
      />
      <Mends remedies={remedies} />
      <Together flood={flood} remedy={staggerRemedyOf(plan)} />
      <p className="field-remark">
        Water beside mains: the cautions stand under Load & mains. Local codes and a licensed
        electrician come first.
      </p>
      <Fold title="Fine tuning" testId="flood-fine">
        <FieldList of={chosen.zone} fields={DEPTH} system={system} onChange={set} />
        <FieldList
          of={flood.flood}
          fields={CROP}
          system={system}
          onChange={(patch) => dispatch(editFlood, { patch })}
        />
        <p className="field-remark">
          Pump, pipe, drain and hours: under Zones. Media: under Trays. Use of water: under Day.
        </p>
      </Fold>
    </Section>
  );
}

/** Of trays that are told together, the one that gets least. */
function lowest(trays: readonly TrayFlood[]): TrayFlood | null {
  const [first, ...others] = trays;
  if (!first) return null;
  return others.reduce((low, tray) => (tray.peakMm < low.peakMm ? tray : low), first);
}

function titleOf(group: AlikeZones, trays: readonly TrayFlood[]): string {
  const many = group.length > 1 ? `, ${group.length} reservoirs set alike` : '';
  const [only] = trays;
  return `${trays.length === 1 && only ? `Tray ${only.code}` : plural(trays.length, 'tray')}${many}`;
}

function GroupSelect(props: { groups: readonly AlikeZones[]; chosen: AlikeZones }) {
  const select = useSession((s) => s.select);
  return (
    <Select
      label="Reservoir of"
      testId="flood-group"
      value={props.chosen[0].zone.id}
      options={props.groups.map((group) => {
        const [first, second, ...more] = group.map(({ zone }) => zone.name);
        const names = [first ?? '', ...(second ? [second] : [])];
        return {
          value: group[0].zone.id,
          label: more.length > 0 ? `${names.join(', ')} and ${more.length} more` : list(names),
        };
      })}
      onCommit={(id) => select([`zone:${id}`])}
    />
  );
}

/** Buttons that mend; the first, where it mends all, is the one to press. */
function Mends({ remedies }: { remedies: readonly FloodRemedy[] }) {
  const dispatch = useDispatch();
  if (remedies.length === 0) return null;
  return (
    <div className="flood-buttons" data-testid="flood-mends">
      {remedies.map(({ label, command, whole }, i) => (
        <Button
          key={label}
          tone={i === 0 && whole ? 'primary' : 'plain'}
          onClick={() => dispatch(command, null)}
        >
          {label}
        </Button>
      ))}
    </div>
  );
}

/** Zones whose pumps run at once, and how to let them run one after the other. */
function Together({ flood, remedy }: { flood: Flood; remedy: Remedy | null }) {
  const dispatch = useDispatch();
  const [most] = [...flood.figures.overlaps].sort((a, b) => b.pumpsW - a.pumpsW);
  if (!most) return null;
  return (
    <div className="flood-together" data-testid="flood-together">
      <span>
        {plural(most.zoneIds.length, 'pump')} run at once, {fixed(most.pumpsW, 0)} W together.
      </span>
      {remedy ? (
        <Button tone="quiet" onClick={() => dispatch(remedy.command, null)}>
          {remedy.label}
        </Button>
      ) : null}
    </div>
  );
}
