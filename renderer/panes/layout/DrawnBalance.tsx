import { useEffect, useEffectEvent } from 'react';
import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { trialInputOf, type DrawBalance } from '../../derive';
import { useJob } from '../../store/jobsContext';
import { Table } from '../../ui';
import { figures, percent, plural } from '../../words';

/** What the draw had to meet, what it met, and what that gained. */
export function DrawnBalance({ plan, layout }: { plan: Plan; layout: Layout }) {
  const job = useJob('drawBalance');
  const data = trialInputOf(plan);
  const constraint = plan.trial?.constraint;
  const asks = constraint && constraint.acceptanceShare < 1 && constraint.balance.length > 0;
  const begin = useEffectEvent(() => {
    if (asks && data) job.start({ data, layout });
  });
  // Begun anew only where the draw itself may be another: a value recorded changes no draw.
  useEffect(() => begin(), [layout, plan.rack, plan.trial]);
  if (!asks) {
    return (
      <p className="field-remark" data-testid="draw-balance">
        The first draw was taken: nothing had to be balanced beyond the blocks.
      </p>
    );
  }
  if (job.running) return <p className="field-remark">Drawing again to see its balance…</p>;
  if (job.problem) return <p className="field-problem">{job.problem}</p>;
  if (!job.result) return null;
  return (
    <Found found={job.result} shelfOf={(id) => shelfName(plan, id)} swaps={layout.swaps.length} />
  );
}

/** A stage of the draw is a shelf, or the rack. */
function shelfName(plan: Plan, id: string): string {
  const shelf = plan.rack.shelves.find((one) => one.id === id);
  return shelf ? `Shelf ${shelf.number}` : 'The rack';
}

interface FoundProps {
  found: DrawBalance;
  shelfOf: (id: string) => string;
  swaps: number;
}

interface Row {
  what: string;
  free: string;
  here: string;
}

export function Found({ found, shelfOf, swaps }: FoundProps) {
  const { here, free } = found;
  const figure = (value: number | null): string => (value === null ? '–' : figures(value));
  const rows: Row[] = [
    { what: 'Light, µmol m⁻² s⁻¹', free: figure(free.ppfdUmol), here: figure(here.ppfdUmol) },
    {
      what: 'Share of edge pots',
      free: percent(free.edgeShare, 1),
      here: percent(here.edgeShare, 1),
    },
  ];
  if (here.start !== null || free.start !== null) {
    rows.push({ what: 'Starting size', free: figure(free.start), here: figure(here.start) });
  }
  return (
    <div data-testid="draw-balance">
      {found.stages.map((stage) => (
        <p key={`${stage.unit} ${stage.name}`}>{sayStage(stage, shelfOf(stage.name))}</p>
      ))}
      {swaps > 0 ? (
        <p className="field-remark">
          As drawn, before {swaps === 1 ? 'the exchange' : 'the exchanges'} logged since; the table
          has {swaps === 1 ? 'it' : 'them'} in it.
        </p>
      ) : null}
      <Table<Row>
        caption="What the constraint gained: largest difference between treatment means"
        showCaption
        rows={rows}
        rowKey={(row) => row.what}
        columns={[
          { key: 'what', head: 'Treatments differ in', cell: (row) => row.what },
          { key: 'free', head: 'Any draw, in the middle', numeric: true, cell: (row) => row.free },
          { key: 'here', head: 'Here', numeric: true, cell: (row) => row.here },
        ]}
      />
    </div>
  );
}

/** Imbalance against its threshold, the share of draws that is good enough, candidates tried. */
export function sayStage(stage: DrawBalance['stages'][number], name: string): string {
  const { distance, threshold, acceptanceShare, candidates } = stage;
  const tried = `${plural(candidates, 'draw')} tried`;
  if (distance === null || threshold === null) {
    return `${name}: any draw would do, for there is nothing to balance; ${tried}.`;
  }
  const share = percent(acceptanceShare, acceptanceShare < 0.01 ? 1 : 0);
  const fairer =
    acceptanceShare === 1
      ? 'the first draw is taken'
      : `fairer than ${percent(1 - acceptanceShare, acceptanceShare < 0.01 ? 1 : 0)} of all shuffles`;
  return `${name}: ${fairer}; ${tried}. Imbalance ${figures(distance)}; the best ${share} stay below ${figures(threshold)}.`;
}
