import { FieldRow, Select } from '../../../ui';
import { shownIn, unitOf } from '../../../words';
import { DrawnField } from '../DrawnField';
import { settingsWith, type LevelFieldsProps } from './levelSettings';

const HANGS_AT_MM = 400;

/** What a level sets on the lamps of its bays. */
export function LevelLightFields({ plan, of, set }: LevelFieldsProps<'light'>) {
  const { lengths } = plan.display;
  const { hanging } = of;
  return (
    <>
      <FieldRow>
        <Select
          label="Lamp kind"
          value={of.lampKindId ?? 'drawn'}
          options={[
            { value: 'drawn', label: 'as drawn' },
            ...plan.rack.lampKinds.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onCommit={(id) => set(settingsWith(of, { lampKindId: id === 'drawn' ? undefined : id }))}
        />
        <DrawnField
          label="Output"
          unit="%"
          size={0.01}
          lowest={0}
          highest={1}
          value={of.dimming}
          onCommit={(dimming) => set(settingsWith(of, { dimming }))}
        />
      </FieldRow>
      <FieldRow>
        <DrawnField
          label="Hours a day"
          unit="h"
          lowest={0}
          highest={24}
          value={of.photoperiodHours}
          onCommit={(photoperiodHours) => set(settingsWith(of, { photoperiodHours }))}
        />
        <DrawnField
          label="Lamps of its own"
          whole
          lowest={1}
          highest={100}
          value={hanging?.count}
          onCommit={(count) =>
            set(
              settingsWith(of, {
                hanging:
                  count === undefined
                    ? undefined
                    : { count, heightMm: hanging?.heightMm ?? HANGS_AT_MM },
              }),
            )
          }
        />
      </FieldRow>
      {hanging ? (
        <DrawnField
          label="Hung above the shelf"
          unit={unitOf('length', lengths)}
          size={1 / shownIn('length', lengths, 1)}
          lowest={0}
          highest={20_000}
          value={hanging.heightMm}
          onCommit={(heightMm = HANGS_AT_MM) =>
            set(settingsWith(of, { hanging: { ...hanging, heightMm } }))
          }
        />
      ) : null}
    </>
  );
}
