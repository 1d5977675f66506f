import type { Plan } from '../../../../shared-types/plan';
import type { Shelf } from '../../../../shared-types/rack';
import { mapOf } from '../../../derive';
import { arrangeLamps } from '../../../document/commands';
import { bayAt, baysOf } from '../../../engine/geometry';
import type { ArrangeAnswer, Arrangement } from '../../../engine/light';
import { useDispatch } from '../../../store/context';
import { Button, Table } from '../../../ui';
import { fixed } from '../../../words';
import { rangeOf, ShelfMap } from '../ShelfMap';
import { dimmings, inWords, restsOn } from './proposalWords';

interface Row {
  name: string;
  at: Arrangement;
}

/** A proposal beside what hangs; nothing is changed until it is taken. */
export function Proposal(props: {
  plan: Plan;
  shelf: Shelf;
  bayId: string | undefined;
  answer: ArrangeAnswer;
  onDone: () => void;
}) {
  const { plan, shelf, bayId, answer, onDone } = props;
  const dispatch = useDispatch();
  const lengths = plan.display.lengths;
  const rows: Row[] = [
    ...(answer.before ? [{ name: 'As they hang', at: answer.before }] : []),
    { name: 'Equally spaced', at: answer.equallySpaced },
    { name: 'Proposed', at: answer.after },
  ];
  const maps = rows
    .filter((row) => row.name !== 'Equally spaced')
    .map((row) => ({
      ...row,
      field: mapOf(
        withLamps(shelf, bayId, row.at),
        plan.rack.lampKinds,
        plan.light.canopyAt,
        row.at.scales,
      ),
    }));
  const range = rangeOf(maps.map((map) => map.field));
  const accept = () => {
    const bay = bayId === undefined ? {} : { bayId };
    const lamps = { shelfId: shelf.id, lamps: answer.after.lamps };
    if (dispatch(arrangeLamps, { ...lamps, ...bay }).ok) onDone();
  };
  return (
    <>
      <Figures rows={rows} over={answer.over} />
      <div className="light-maps">
        {maps.map((map) => (
          <ShelfMap key={map.name} title={map.name} shelf={shelf} field={map.field} {...range} />
        ))}
      </div>
      <p className="field-remark" data-testid="arrange-words">
        Proposed: {inWords(answer.after, lengths)}{' '}
        {answer.after.meetsTarget ? '' : 'The mean wanted cannot be reached within these limits.'}{' '}
        {restsOn(answer)}
      </p>
      <div className="section-actions">
        <Button tone="primary" data-testid="arrange-accept" onClick={accept}>
          Hang them so
        </Button>
        <Button onClick={onDone}>Leave them as they are</Button>
      </div>
    </>
  );
}

/** The shelf with a proposal's lamps; those of other bays stay. */
function withLamps(shelf: Shelf, bayId: string | undefined, { lamps }: Arrangement): Shelf {
  const bays = baysOf(shelf);
  const stay = shelf.lamps.filter(
    ({ xMm, yMm }) => bayId !== undefined && bayAt(bays, xMm, yMm).id !== bayId,
  );
  return {
    ...shelf,
    lamps: [...stay, ...lamps.map((lamp, i) => ({ ...lamp, id: `new${i + 1}` }))],
  };
}

function Figures({ rows, over }: { rows: readonly Row[]; over: ArrangeAnswer['over'] }) {
  return (
    <Table
      caption={over === 'pots' ? 'Over the pots' : 'Over the canopy'}
      showCaption
      testId="arrange-figures"
      rows={rows}
      rowKey={(row) => row.name}
      columns={[
        { key: 'name', head: 'Lamps', cell: (row) => row.name },
        { key: 'mean', head: 'PPFD', numeric: true, cell: (r) => fixed(r.at.evenness.mean, 0) },
        {
          key: 'range',
          head: 'min–max',
          numeric: true,
          cell: (r) => `${fixed(r.at.evenness.min, 0)}–${fixed(r.at.evenness.max, 0)}`,
        },
        {
          key: 'even',
          head: 'min : mean',
          numeric: true,
          cell: (r) => (r.at.evenness.minToMean === null ? '–' : fixed(r.at.evenness.minToMean, 2)),
        },
        {
          key: 'dim',
          head: 'dimmed to',
          numeric: true,
          cell: (r) => dimmings(r.at),
        },
      ]}
    />
  );
}
