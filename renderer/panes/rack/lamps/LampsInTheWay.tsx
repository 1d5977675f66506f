import type { Shelf } from '../../../../shared-types/rack';
import { bind } from '../../../document';
import { editBoard, partLamps } from '../../../document/commands';
import { crossingsOf } from '../../../engine/lamps';
import { usePlanStore } from '../../../store';
import { Button, Section } from '../../../ui';
import { plural } from '../../../words';
import { useAct } from '../useAct';

/** Lamps that a board stands in the way of, with both ways out. */
export function LampsInTheWay({ shelf }: { shelf: Shelf }) {
  const act = useAct();
  const plan = usePlanStore((s) => s.plan);
  const found = crossingsOf(shelf, plan?.rack.lampKinds ?? []);
  const [first] = found;
  if (!first) return null;
  const { board } = first;
  const lengthwise = board.direction === 'across' ? 'lengthwise' : 'across';
  const side = lengthwise === 'across' ? shelf.widthMm : shelf.depthMm;
  return (
    <Section title="Lamps in the way" testId="lamps-in-the-way">
      <p className="field-remark">
        {plural(found.length, 'lamp')} over this shelf cannot hang through the board. Until then the
        light is that of lamps cut there.
      </p>
      <div className="rack-buttons">
        <Button
          data-testid="part-lamps"
          onClick={() => act(bind(partLamps, { shelfId: shelf.id }))}
        >
          Hang shorter lamps in each bay
        </Button>
        <Button
          data-testid="turn-board"
          onClick={() =>
            act(
              bind(editBoard, {
                boardId: board.id,
                patch: { direction: lengthwise, atMm: side / 2 },
              }),
            )
          }
        >
          {lengthwise === 'lengthwise' ? 'Stand the board lengthwise' : 'Stand the board across'}
        </Button>
      </div>
    </Section>
  );
}
