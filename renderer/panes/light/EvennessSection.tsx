import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  groupingsOf,
  lightGroupsOf,
  potLightOf,
  potByIdOf,
  potsOf,
  type LightCounted,
  type GroupedBy,
  type LightGroup,
} from '../../derive';
import { useSession } from '../../store/context';
import { Checkbox, EmptyState, Section, Segmented, Table, type TableColumn } from '../../ui';
import { Histogram } from './Histogram';
import { fixed, percent, plural } from '../../words';

const WORDS: Record<GroupedBy, string> = {
  shelf: 'Shelves',
  bay: 'Bays',
  tray: 'Trays',
  block: 'Blocks',
  treatment: 'Treatments',
};

/** How even the light is, by tray, shelf, block and treatment: what a grower asks first. */
export function EvennessSection({ plan, counted }: { plan: Plan; counted: LightCounted }) {
  const selection = useSession((s) => s.selection);
  const select = useSession((s) => s.select);
  const [wanted, setWanted] = useState<GroupedBy>('tray');
  const [leaveOut, setLeaveOut] = useState(true);
  const groupings = groupingsOf(plan);
  const by = groupings.includes(wanted) ? wanted : 'tray';
  const pots = potsOf(plan);
  const lamps = plan.rack.shelves.some((shelf) => shelf.lamps.length > 0);
  if (!lamps || pots.length === 0) {
    return (
      <Section title="Evenness at the pots">
        <EmptyState title="No light to judge yet">
          Hang lamps over the shelves in the Rack stage and put pots into the trays; the figures for
          every tray follow at once.
        </EmptyState>
      </Section>
    );
  }
  const guards = pots.some((pot) => pot.guard);
  const groups = lightGroupsOf(plan, by, counted);
  const marked = (group: LightGroup) =>
    selection.includes(group.ref) ||
    selection.some((ref) => potByIdOf(plan).get(ref.slice(4))?.trayId === group.ref.slice(5));
  return (
    <Section title="Evenness at the pots" testId="evenness-section">
      <Segmented
        label="Figures by"
        testId="evenness-by"
        value={by}
        options={groupings.map((value) => ({ value, label: WORDS[value] }))}
        onChoose={setWanted}
      />
      <div className="light-evenness">
        <Table
          caption={`Evenness of PPFD by ${by}`}
          columns={columnsOf(plan, guards && leaveOut)}
          rows={groups}
          rowKey={(row) => row.ref}
          isMarked={marked}
          {...(by === 'tray' || by === 'shelf'
            ? { onRowClick: (row: LightGroup) => select([row.ref]) }
            : {})}
          testId="evenness"
        />
      </div>
      {guards ? (
        <Checkbox label="Leave guard pots out" checked={leaveOut} onCommit={setLeaveOut} />
      ) : null}
      <p className="field-remark" data-testid="light-standing">
        {counted !== 'reflected'
          ? 'While you drag: direct light alone. Reflected light is added when you let go.'
          : standing(groups, by, plan)}
      </p>
      <Histogram plan={plan} counted={counted} withoutGuards={guards && leaveOut} />
    </Section>
  );
}

const STANDING: Record<LightGroup['source'], string> = {
  estimated: 'Estimated: no meter reading stands behind it.',
  calibrated: 'Calibrated by meter readings.',
  'carried over': 'Carried over from readings before a change; measure again.',
  mixed: 'Calibrated by meter readings where a shelf has some, estimated elsewhere.',
};

/** What the figures rest on, and how far they may be off. */
function standing(groups: readonly LightGroup[], by: GroupedBy, plan: Plan): string {
  const sources = new Set(groups.map((group) => group.source));
  const start =
    sources.size > 1 || sources.has('mixed')
      ? STANDING.mixed
      : STANDING[sources.values().next().value ?? 'estimated'];
  const carried =
    sources.size > 1 && sources.has('carried over')
      ? ' Some is carried over from readings before a change.'
      : '';
  const shelves = by === 'shelf' ? groups : lightGroupsOf(plan, 'shelf');
  let worst = { percent: -1, reason: '' };
  for (const { uncertainty } of shelves) {
    const percent = uncertainty?.plusMinusPercent ?? -1;
    if (uncertainty && percent > worst.percent)
      worst = { percent, reason: uncertainty.reason(plan.display.lengths) };
  }
  const uncertainty =
    worst.percent < 0
      ? ''
      : ` At worst a shelf’s mean is right within ±${fixed(worst.percent, 0)} %, a single pot within ±${fixed(worstPot(plan), 0)} %, 95 times of 100 (${worst.reason}).`;
  return `${start}${carried}${uncertainty} Computed at every pot’s centre; CV uses n − 1.`;
}

/** The widest ± of a lit pot, %. */
function worstPot(plan: Plan): number {
  const all = [...potLightOf(plan).pots.values()].map(
    ({ plusMinusPercent }) => plusMinusPercent ?? 0,
  );
  return all.reduce((most, one) => Math.max(most, one), 0);
}

function columnsOf(plan: Plan, withoutGuards: boolean): TableColumn<LightGroup>[] {
  const of = (group: LightGroup) =>
    withoutGuards ? (group.withoutGuards ?? group.evenness) : group.evenness;
  const ratio = (value: number | null) => (value === null ? '–' : fixed(value, 2));
  const limit = plan.light.lowestMinToMean;
  return [
    { key: 'name', head: 'Where', cell: (group) => group.name },
    {
      key: 'mean',
      head: 'PPFD',
      numeric: true,
      cell: (group) => (
        <>
          {fixed(of(group).mean, 0)}
          {group.interval ? (
            <span className="light-interval" title="By the published range of the lamps’ factor">
              {fixed(group.interval.lowest, 0)}–{fixed(group.interval.highest, 0)}
            </span>
          ) : null}
        </>
      ),
    },
    {
      key: 'dli',
      head: 'DLI',
      numeric: true,
      cell: (group) => fixed((withoutGuards ? group.dliWithoutGuardsMol : null) ?? group.dliMol, 1),
    },
    {
      key: 'range',
      head: 'min–max',
      numeric: true,
      cell: (group) => `${fixed(of(group).min, 0)}–${fixed(of(group).max, 0)}`,
    },
    {
      key: 'minmean',
      head: 'min : mean',
      numeric: true,
      cell: (group) => {
        const value = of(group).minToMean;
        const low = value !== null && value < limit;
        return (
          <span
            className={low ? 'light-low' : undefined}
            title={low ? `The plan asks for at least ${fixed(limit, 2)}` : undefined}
          >
            {low ? '▾ ' : ''}
            {ratio(value)}
          </span>
        );
      },
    },
    { key: 'minmax', head: 'min : max', numeric: true, cell: (group) => ratio(of(group).minToMax) },
    {
      key: 'cv',
      head: 'CV',
      unit: '%',
      numeric: true,
      cell: (group) => {
        const cv = of(group).cvPercent;
        return cv === null ? '–' : fixed(cv, 1);
      },
    },
    {
      key: 'within',
      head: '±10 %',
      numeric: true,
      cell: (group) => (
        <span title={`Within ±10 % of the mean, of ${plural(of(group).n, 'pot')}`}>
          {percent(of(group).shareWithin10Percent)}
        </span>
      ),
    },
  ];
}
