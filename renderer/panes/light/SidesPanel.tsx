import { bind, together } from '../../document';
import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { sides, type Facing, type Shelf, type Side } from '../../../shared-types/rack';
import { lightBasisOf, SIDE_KINDS, type SidesResult } from '../../derive';
import { copySides, editShelf, setFacing } from '../../document/commands';
import { shelfInRoom } from '../../engine/light';
import { useDispatch } from '../../store/context';
import { useJob } from '../../store/jobsContext';
import { Button, FieldRow, JobButton, NumberField, Table } from '../../ui';
import { FacesPicture } from './FacesPicture';
import { SideFields } from './SideFields';
import { ShelfChoice } from './shelfInQuestion';
import { rangeOf, ShelfMap } from './ShelfMap';
import { standsBehind } from './standsBehind';
import { fixed, percent } from '../../words';

const NAMES: Record<SidesResult['key'], string> = {
  open: 'All sides open',
  now: 'As they are',
  white: 'White sides',
};

type Surface = Side | 'above' | 'canopy';

/** What the sides of a shelf reflect, and what white sides would bring. */
export function SidesPanel({ plan, shelf }: { plan: Plan; shelf: Shelf }) {
  const dispatch = useDispatch();
  const job = useJob('lightSides');
  const [askedFor, setAskedFor] = useState<Shelf | null>(null);
  const set = (surface: Surface, share: number) =>
    dispatch(editShelf, {
      shelfId: shelf.id,
      patch: { reflectances: { ...shelf.reflectances, [surface]: share } },
    });
  const others = plan.rack.shelves.filter((other) => other.id !== shelf.id);
  const face = (side: Side, facing: Facing, share?: number) => {
    const { id: shelfId, reflectances } = shelf;
    const faced = bind(setFacing, { shelfId, side, facing });
    if (share === undefined) return dispatch(setFacing, { shelfId, side, facing });
    const patch = { reflectances: { ...reflectances, [side]: share } };
    const label = () => setFacing.label({ shelfId, side, facing }, plan);
    return dispatch(together(label, [bind(editShelf, { shelfId, patch }), faced]), null);
  };
  const behind = standsBehind(shelf, plan.rack);
  const sameForOthers = () =>
    dispatch(copySides, { fromShelfId: shelf.id, toShelfIds: others.map(({ id }) => id) });
  return (
    <>
      <ShelfChoice plan={plan} shelf={shelf} />
      <FacesPicture
        shelf={shelf}
        behind={behind}
        onChoose={(side) =>
          document.querySelector<HTMLElement>(`[data-testid="side-${side}"]`)?.focus()
        }
      />
      {Object.keys(behind).length > 0 ? (
        <p className="field-remark">
          What stands beside is found from the places of the racks. A choice below overrules it.
        </p>
      ) : null}
      {sides.map((side) => (
        <SideFields
          key={side}
          {...{ side, shelf, others }}
          lengths={plan.display.lengths}
          onShare={set}
          onFace={face}
        />
      ))}
      <FieldRow>
        <NumberField
          label="Underside above"
          unit="%"
          lowest={0}
          highest={100}
          decimals={1}
          value={shelf.reflectances.above * 100}
          onCommit={(value) => set('above', value / 100)}
        />
        <NumberField
          label="Canopy"
          unit="%"
          lowest={0}
          highest={100}
          decimals={1}
          value={shelf.reflectances.canopy * 100}
          onCommit={(value) => set('canopy', value / 100)}
        />
      </FieldRow>
      <JobButton
        job={job}
        label="Compare open with white sides"
        progressOf="Comparing the sides"
        disabled={shelf.lamps.length === 0}
        testId="compare-sides"
        onStart={() => {
          setAskedFor(shelf);
          job.start({
            shelf: shelfInRoom(shelf, plan.rack),
            lampKinds: plan.rack.lampKinds,
            light: lightBasisOf(plan),
          });
        }}
      >
        {others.length > 0 ? <Button onClick={sameForOthers}>Same for all shelves</Button> : null}
      </JobButton>
      {job.result && askedFor === shelf ? (
        <Comparison results={job.result} shelf={shelf} />
      ) : (
        <p className="field-remark">
          Usual reflectances: matt white {percent(SIDE_KINDS[1].share)}, foil{' '}
          {percent(SIDE_KINDS[2].share)}, a closed canopy 5 to 10 %. Light from outside counts in
          the light of the pots, and its ± is wider.
        </p>
      )}
    </>
  );
}

function orDash(value: number | null | undefined, decimals: number): string {
  return value === null || value === undefined ? '–' : fixed(value, decimals);
}

function Comparison({ results, shelf }: { results: SidesResult[]; shelf: Shelf }) {
  const open = results.find((result) => result.key === 'open')?.evenness?.mean ?? null;
  const range = rangeOf(results.map((result) => result.field));
  const scaled = results.some((result) => result.scaled);
  return (
    <>
      <Table
        caption={`Estimated over the pots of this shelf${scaled ? ', with the scale of its readings' : ''}`}
        showCaption
        testId="sides-figures"
        rows={results}
        rowKey={(row) => row.key}
        columns={[
          { key: 'name', head: 'Sides', cell: (row) => NAMES[row.key] },
          {
            key: 'mean',
            head: 'PPFD',
            numeric: true,
            cell: (row) => (row.evenness ? fixed(row.evenness.mean, 0) : '–'),
          },
          {
            key: 'gain',
            head: 'gain',
            numeric: true,
            cell: (row) =>
              row.evenness && open !== null && open > 0
                ? `${fixed(100 * (row.evenness.mean / open - 1), 0)} %`
                : '–',
          },
          {
            key: 'even',
            head: 'min : mean',
            numeric: true,
            cell: (row) => orDash(row.evenness?.minToMean, 2),
          },
          {
            key: 'cv',
            head: 'CV',
            unit: '%',
            numeric: true,
            cell: (row) => orDash(row.evenness?.cvPercent, 1),
          },
        ]}
      />
      <div className="light-maps">
        {results
          .filter((result) => result.key !== 'now')
          .map((result) => (
            <ShelfMap
              key={result.key}
              title={NAMES[result.key]}
              shelf={shelf}
              field={result.field}
              {...range}
            />
          ))}
      </div>
    </>
  );
}
