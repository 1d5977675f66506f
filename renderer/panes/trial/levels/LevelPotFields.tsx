import { FieldRow } from '../../../ui';
import { shownIn, unitOf } from '../../../words';
import { DrawnField } from '../DrawnField';
import { settingsWith, type LevelFieldsProps } from './levelSettings';

/** The pots that a level is grown in. */
export function LevelPotFields({ plan, of, set }: LevelFieldsProps<'hand'>) {
  const { lengths } = plan.display;
  const length = {
    unit: unitOf('length', lengths),
    size: 1 / shownIn('length', lengths, 1),
    lowest: 1,
    highest: 20_000,
  };
  return (
    <FieldRow>
      <DrawnField
        {...length}
        label="Pot diameter"
        value={of.potDiameterMm}
        onCommit={(potDiameterMm) => set(settingsWith(of, { potDiameterMm }))}
      />
      <DrawnField
        {...length}
        label="Pot height"
        value={of.potHeightMm}
        onCommit={(potHeightMm) => set(settingsWith(of, { potHeightMm }))}
      />
    </FieldRow>
  );
}
