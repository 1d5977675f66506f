import {
  facingKinds,
  facingWords,
  type Facing,
  type Shelf,
  type Side,
} from '../../../shared-types/rack';
import { SIDE_KINDS } from '../../derive';
import { FieldRow, LengthField, NumberField, Select } from '../../ui';
import { capital, type UnitSystem } from '../../words';

interface Props {
  side: Side;
  shelf: Shelf;
  others: readonly Shelf[];
  lengths: UnitSystem;
  onShare: (side: Side, share: number) => void;
  onFace: (side: Side, facing: Facing, share?: number) => void;
}

/** What one side of a shelf faces, and the figures that go with it. */
export function SideFields(props: Props) {
  const { side, shelf, others, onShare, onFace } = props;
  const share = shelf.reflectances[side];
  const facing: Facing = shelf.faces?.[side] ?? { kind: 'matt' };
  const usual = SIDE_KINDS.find((k) => Math.abs(k.share - share) < 1e-6);
  const kinds = facingKinds.filter(
    (kind) => kind !== 'matt' && (kind !== 'shelf' || others.length > 0),
  );
  return (
    <FieldRow>
      <Select<string>
        label={`${capital(side)} side`}
        testId={`side-${side}`}
        value={facing.kind === 'matt' ? (usual?.key ?? 'other') : `face-${facing.kind}`}
        options={[
          ...SIDE_KINDS.map((k) => ({ value: k.key, label: k.label })),
          { value: 'other', label: 'another figure' },
          ...kinds.map((kind) => ({ value: `face-${kind}`, label: facingWords[kind] })),
        ]}
        onCommit={(key) => {
          const chosen = SIDE_KINDS.find((k) => k.key === key);
          const kind = facingKinds.find((k) => key === `face-${k}`);
          if (chosen) onFace(side, { kind: 'matt' }, chosen.share);
          else if (kind === 'foil') onFace(side, startOfFacing(kind, others), SIDE_KINDS[2].share);
          else onFace(side, startOfFacing(kind ?? 'matt', others));
        }}
      />
      <FacingFields {...props} facing={facing} onShare={onShare} onFace={onFace} />
    </FieldRow>
  );
}

/** Usual figures to begin with (common practice). */
function startOfFacing(kind: Facing['kind'], others: readonly Shelf[]): Facing {
  switch (kind) {
    case 'matt':
    case 'dark':
      return { kind };
    case 'foil':
      return { kind, specular: 0.9 };
    case 'wall':
      return { kind, reflectance: 0.8, distanceMm: 100 };
    case 'lit':
      return { kind, lowestUmol: 2, highestUmol: 10 };
    case 'shelf':
      return { kind, shelfId: others[0]?.id ?? '', gapMm: 50 };
    default:
      return kind satisfies never;
  }
}

function FacingFields(props: Props & { facing: Facing }) {
  const { side, shelf, others, lengths, facing, onShare, onFace } = props;
  const share = (label: string, value: number, onCommit: (value: number) => void) => (
    <NumberField
      label={label}
      unit="%"
      lowest={0}
      highest={100}
      decimals={1}
      value={value * 100}
      onCommit={(percent) => onCommit(percent / 100)}
    />
  );
  const own = share('reflectance', shelf.reflectances[side], (value) => onShare(side, value));
  const far = (label: string, valueMm: number, lowestMm: number, onMm: (mm: number) => void) => (
    <LengthField
      label={label}
      system={lengths}
      lowestMm={lowestMm}
      highestMm={5000}
      valueMm={valueMm}
      onCommit={onMm}
    />
  );
  switch (facing.kind) {
    case 'matt':
      return own;
    case 'foil':
      return (
        <>
          {own}
          {share('of it as a mirror', facing.specular, (specular) =>
            onFace(side, { ...facing, specular }),
          )}
        </>
      );
    case 'wall':
      return (
        <>
          {share('reflectance', facing.reflectance, (reflectance) =>
            onFace(side, { ...facing, reflectance }),
          )}
          {far('away', facing.distanceMm, 1, (distanceMm) =>
            onFace(side, { ...facing, distanceMm }),
          )}
        </>
      );
    case 'dark':
      return null;
    case 'lit': {
      const ppfd = (label: string, value: number, onCommit: (value: number) => void) => (
        <NumberField
          label={label}
          unit="µmol m⁻² s⁻¹"
          lowest={0}
          highest={3000}
          value={value}
          onCommit={onCommit}
        />
      );
      return (
        <>
          {ppfd('at least', facing.lowestUmol, (lowestUmol) =>
            onFace(side, {
              ...facing,
              lowestUmol,
              highestUmol: Math.max(lowestUmol, facing.highestUmol),
            }),
          )}
          {ppfd('at most', facing.highestUmol, (highestUmol) =>
            onFace(side, {
              ...facing,
              highestUmol,
              lowestUmol: Math.min(highestUmol, facing.lowestUmol),
            }),
          )}
        </>
      );
    }
    case 'shelf':
      return (
        <>
          <Select
            label="which"
            testId={`side-${side}-shelf`}
            value={facing.shelfId}
            options={others.map(({ id, number }) => ({ value: id, label: `Shelf ${number}` }))}
            onCommit={(shelfId) => onFace(side, { ...facing, shelfId })}
          />
          {far('across', facing.gapMm, 0, (gapMm) => onFace(side, { ...facing, gapMm }))}
        </>
      );
    default:
      return facing satisfies never;
  }
}
