import { FieldRow, TextField } from '../../../ui';
import { shownIn, unitOf } from '../../../words';
import { DrawnField } from '../DrawnField';
import { settingsWith, type LevelFieldsProps } from './levelSettings';

/** What a level sets on its reservoirs and their floods. */
export function LevelWaterFields({ plan, of, set }: LevelFieldsProps<'water'>) {
  const { lengths } = plan.display;
  return (
    <>
      <FieldRow>
        <TextField
          label="Solution"
          value={of.solution ?? ''}
          longest={120}
          onCommit={(text) => set(settingsWith(of, { solution: text.trim() || undefined }))}
        />
        <DrawnField
          label="EC"
          unit="mS/cm"
          lowest={0}
          highest={50}
          value={of.ecMsCm}
          onCommit={(ecMsCm) => set(settingsWith(of, { ecMsCm }))}
        />
      </FieldRow>
      <FieldRow>
        <DrawnField
          label="Flood depth"
          unit={unitOf('length', lengths)}
          size={1 / shownIn('length', lengths, 1)}
          lowest={0.1}
          highest={20_000}
          value={of.floodDepthMm}
          onCommit={(floodDepthMm) => set(settingsWith(of, { floodDepthMm }))}
        />
        <DrawnField
          label="Flood every"
          unit="min"
          lowest={1}
          highest={1440}
          value={of.everyMinutes}
          onCommit={(everyMinutes) => set(settingsWith(of, { everyMinutes }))}
        />
        <DrawnField
          label="Pump on for"
          unit="min"
          lowest={0.1}
          highest={1440}
          value={of.onMinutes}
          onCommit={(onMinutes) => set(settingsWith(of, { onMinutes }))}
        />
      </FieldRow>
    </>
  );
}
