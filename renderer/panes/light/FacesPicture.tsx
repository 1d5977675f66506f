import { facingWords, sides, type Shelf, type Side } from '../../../shared-types/rack';
import { capital, percent } from '../../words';

/** The bay from above with its four sides: a side leads to its fields. */
export function FacesPicture({
  shelf,
  behind,
  onChoose,
}: {
  shelf: Shelf;
  /** What stands there by its place in the room. */
  behind: Partial<Record<Side, string>>;
  onChoose: (side: Side) => void;
}) {
  return (
    <div className="light-faces" role="group" aria-label="Sides of the shelf, seen from above">
      {sides.map((side) => {
        const facing = shelf.faces?.[side];
        const share = shelf.reflectances[side];
        const matt = share > 0 ? `reflects ${percent(share)}` : (behind[side] ?? 'open');
        return (
          <button
            key={side}
            type="button"
            className={`light-face light-face-${side}`}
            data-closed={!facing || facing.kind === 'foil' ? share > 0 : undefined}
            data-testid={`face-${side}`}
            onClick={() => onChoose(side)}
          >
            <b>{capital(side)}</b> {facing ? facingWords[facing.kind] : matt}
          </button>
        );
      })}
      <div className="light-face-middle">Shelf {shelf.number}</div>
    </div>
  );
}
