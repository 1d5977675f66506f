import type { Plan } from '../../../shared-types/plan';
import type { Constraint } from '../../../shared-types/trial/scheme';
import { trialInputOf, type DrawTrial } from '../../derive';
import { setConstraint } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { useJob } from '../../store/jobsContext';
import { Checkbox, FieldRow, Fold, JobButton, NumberField, Table } from '../../ui';
import { figures, percent, plural, fieldNumber } from '../../words';

const kinds = [
  { value: 'light', label: 'light' },
  { value: 'position', label: 'position (side, depth, edge)' },
  { value: 'start', label: 'starting size' },
] as const;

/** What a draw must meet to be taken, and what that brings. */
export function ConstraintFields({ plan, constraint }: { plan: Plan; constraint: Constraint }) {
  const dispatch = useDispatch();
  const job = useJob('tryDraw');
  const patch = (change: Partial<Constraint>) => dispatch(setConstraint, { patch: change });
  const { acceptanceShare, balance, likeNeighbours } = constraint;
  const input = trialInputOf(plan);
  return (
    <Fold title="What a draw must meet" said={`– ${summary(constraint)}`} testId="constraint">
      <FieldRow>
        <NumberField
          label="How picky (acceptance share)"
          value={acceptanceShare}
          lowest={0.001}
          highest={1}
          step={0.05}
          remark={`1 takes the first draw; ${fieldNumber(0.1)} one of the best tenth.`}
          testId="acceptance"
          onCommit={(share) => patch({ acceptanceShare: share })}
        />
        <NumberField
          label="Like pots side by side, at most"
          value={likeNeighbours ?? 0}
          whole
          lowest={0}
          highest={50}
          remark="0 for any number."
          testId="like-neighbours"
          onCommit={(most) => patch({ likeNeighbours: most === 0 ? null : most })}
        />
      </FieldRow>
      <p className="field-remark">Balanced over the treatments:</p>
      {kinds.map(({ value, label }) => (
        <Checkbox
          key={value}
          label={label}
          checked={balance.includes(value)}
          onCommit={(checked) =>
            patch({
              balance: checked ? [...balance, value] : balance.filter((kind) => kind !== value),
            })
          }
        />
      ))}
      {balance.includes('start') ? (
        <p className="field-remark">
          Starting size counts where every pot has its value before the draw. Plants listed at the
          layout stage are balanced by size class instead.
        </p>
      ) : null}
      <JobButton
        job={job}
        label="See what it brings"
        progressOf="Progress of the trial draws"
        disabled={
          !input || (likeNeighbours === null && (acceptanceShare >= 1 || balance.length === 0))
        }
        testId="try-draw"
        onStart={() => (input ? job.start(input) : undefined)}
      />
      {job.result ? <Before result={job.result} /> : null}
    </Fold>
  );
}

function summary({ acceptanceShare, balance, likeNeighbours }: Constraint): string {
  const parts = [
    acceptanceShare >= 1 || balance.length === 0
      ? 'the first draw is taken'
      : `the best ${oneIn(acceptanceShare)} in ${balance.join(', ')}`,
  ];
  if (likeNeighbours !== null) parts.push(`at most ${likeNeighbours} alike side by side`);
  return parts.join('; ');
}

/** `1 in 10`, where the share is one over a whole number. */
function oneIn(share: number): string {
  const many = Math.round(1 / share);
  return Math.abs(1 / share - many) < 1e-6 ? `1 in ${many}` : percent(share);
}

interface Row {
  what: string;
  free: string;
  constrained: string;
}

function Before({ result }: { result: DrawTrial }) {
  const { free, constrained } = result;
  const figure = (value: number | null): string => (value === null ? '–' : figures(value));
  const rows: Row[] = [
    {
      what: 'Light, µmol m⁻² s⁻¹',
      free: figure(free.ppfdUmol),
      constrained: figure(constrained.ppfdUmol),
    },
    {
      what: 'Share of edge pots',
      free: percent(free.edgeShare, 1),
      constrained: percent(constrained.edgeShare, 1),
    },
  ];
  if (free.start !== null) {
    rows.push({
      what: 'Starting size',
      free: figure(free.start),
      constrained: figure(constrained.start),
    });
  }
  return (
    <>
      <Table<Row>
        caption="Largest difference between treatment means, in the middle of many draws"
        showCaption
        testId="draw-trial"
        rows={rows}
        rowKey={(row) => row.what}
        columns={[
          { key: 'what', head: 'Treatments differ in', cell: (row) => row.what },
          { key: 'free', head: 'Any draw', numeric: true, cell: (row) => row.free },
          { key: 'within', head: 'As asked', numeric: true, cell: (row) => row.constrained },
        ]}
      />
      <p className="field-remark">
        {plural(Math.round(result.candidates), 'candidate')} a draw on average; at least{' '}
        {percent(result.acceptanceShare)} of all draws are good enough.
      </p>
    </>
  );
}
