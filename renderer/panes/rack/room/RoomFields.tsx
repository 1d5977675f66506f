import type { Room } from '../../../../shared-types/rack';
import { FieldRow, LengthField, NumberField, Select } from '../../../ui';
import type { UnitSystem } from '../../../words';

const SIZES = [
  ['widthMm', 'Width', 50_000],
  ['depthMm', 'Depth', 50_000],
  ['heightMm', 'Height', 20_000],
] as const;

const SURFACES = [
  ['walls', 'Walls'],
  ['floor', 'Floor'],
  ['ceiling', 'Ceiling'],
] as const;

/** Usual diffuse reflectances of rooms (EN 12464-1:2011, 4.2.2, middle of the ranges it names). */
const USUAL = { walls: 0.65, floor: 0.3, ceiling: 0.8 };

/** The room's size, and the reflectance of its surfaces. */
export function RoomFields(props: {
  room: Room;
  lengths: UnitSystem;
  onChange: (room: Room) => void;
}) {
  const { room, lengths, onChange } = props;
  return (
    <>
      <FieldRow>
        {SIZES.map(([key, label, highestMm]) => (
          <LengthField
            key={key}
            label={label}
            system={lengths}
            lowestMm={500}
            highestMm={highestMm}
            valueMm={room[key]}
            onCommit={(mm) => onChange({ ...room, [key]: mm })}
          />
        ))}
      </FieldRow>
      {SURFACES.map(([key, label]) => (
        <FieldRow key={key}>
          <Select<'known' | 'unknown'>
            label={label}
            testId={`room-${key}`}
            value={room[key] === undefined ? 'unknown' : 'known'}
            options={[
              { value: 'unknown', label: 'not known' },
              { value: 'known', label: 'known' },
            ]}
            onCommit={(known) => {
              const { [key]: _, ...rest } = room;
              onChange(known === 'known' ? { ...rest, [key]: USUAL[key] } : rest);
            }}
          />
          {room[key] === undefined ? null : (
            <NumberField
              label="reflectance"
              unit="%"
              lowest={0}
              highest={100}
              decimals={1}
              value={room[key] * 100}
              onCommit={(percent) => onChange({ ...room, [key]: percent / 100 })}
            />
          )}
        </FieldRow>
      ))}
      <p className="field-remark">
        A surface that is not known counts as between 20 and 80 %, and the ± of the light is wider.
      </p>
    </>
  );
}
