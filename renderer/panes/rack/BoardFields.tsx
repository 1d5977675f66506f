import type { Board, Shelf } from '../../../shared-types/rack';
import { boardDirections, boardDirectionWords } from '../../../shared-types/rack';
import { boardEffectOf } from '../../derive';
import { bind } from '../../document';
import { copyBoards, editBoard } from '../../document/commands';
import { usePlanStore } from '../../store';
import { Button, FieldList, Section, type FieldOf } from '../../ui';
import type { UnitSystem } from '../../words';
import { sayEffect } from './boardWords';
import { sharedValues } from './common';
import { LampsInTheWay } from './lamps/LampsInTheWay';
import { useAct } from './useAct';

type BoardFigures = Omit<Board, 'id'>;

const FIELDS: readonly FieldOf<BoardFigures>[] = [
  {
    as: 'choice',
    key: 'direction',
    label: 'Stands',
    testId: 'board-direction',
    options: boardDirections.map((value) => ({ value, label: boardDirectionWords[value] })),
  },
  { as: 'length', key: 'atMm', label: 'Middle at', testId: 'board-at', lowestMm: 1 },
  {
    as: 'length',
    key: 'thicknessMm',
    label: 'Thickness',
    testId: 'board-thickness',
    lowestMm: 0.1,
    highestMm: 200,
    usual: { of: 'Boards', fromMm: 2, toMm: 60 },
  },
  {
    as: 'length',
    key: 'downToMm',
    label: 'Lower edge above the shelf',
    testId: 'board-down-to',
    lowestMm: 0,
  },
  { as: 'share', key: 'reflectance', label: 'Reflects', testId: 'board-reflects' },
];

/** Every figure of the selected boards, and the same boards for the other shelves. */
export function BoardFields(props: {
  boards: { shelf: Shelf; board: Board }[];
  lengths: UnitSystem;
}) {
  const { lengths } = props;
  const act = useAct();
  const boards = props.boards.map(({ board }) => board);
  const [first] = props.boards;
  const edit = (patch: Partial<BoardFigures>) =>
    act(
      props.boards.map(({ shelf, board }) => {
        const turned = patch.direction !== undefined && patch.direction !== board.direction;
        const side = patch.direction === 'across' ? shelf.widthMm : shelf.depthMm;
        // A place across says nothing of one lengthwise: it begins in the middle.
        const atMm = turned ? { atMm: side / 2 } : {};
        return bind(editBoard, { boardId: board.id, patch: { ...patch, ...atMm } });
      }),
    );
  return (
    <>
      <Section title="Size and place">
        <FieldList<BoardFigures>
          of={sharedValues(boards)}
          fields={FIELDS}
          system={lengths}
          onChange={edit}
        />
        <p className="field-remark">
          A board parts the light of its shelf. Trays and water pass beneath its lower edge, and so
          does some light where the canopy stays below it.
        </p>
      </Section>
      {first ? <LampsInTheWay shelf={first.shelf} /> : null}
      {first && props.boards.length === 1 ? <OnOtherShelves shelf={first.shelf} /> : null}
    </>
  );
}

/** The boards of this shelf for all others, in one act, told before it is done. */
function OnOtherShelves({ shelf }: { shelf: Shelf }) {
  const act = useAct();
  const plan = usePlanStore((s) => s.plan);
  if (!plan || plan.rack.shelves.length < 2) return null;
  const toShelfIds = plan.rack.shelves.filter(({ id }) => id !== shelf.id).map(({ id }) => id);
  const copy = bind(copyBoards, { fromShelfId: shelf.id, toShelfIds });
  const told = boardEffectOf(plan, copy);
  return (
    <Section title="On the other shelves">
      <div className="rack-buttons">
        <Button data-testid="copy-boards" disabled={!told.ok} onClick={() => act(copy)}>
          Same on all shelves
        </Button>
      </div>
      <p className="field-remark" data-testid="copy-boards-effect">
        {told.ok ? sayEffect(told.effect) : told.reason}
      </p>
    </Section>
  );
}
