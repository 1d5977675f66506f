import type { Plan } from '../../../../shared-types/plan';
import { Select } from '../../../ui';
import type { SettingsThrough } from './levelSettings';

/** The medium that a level is grown in. */
export function LevelMediumField(props: {
  plan: Plan;
  of: SettingsThrough<'medium'> | null;
  set: (settings: SettingsThrough<'medium'> | null) => void;
}) {
  const media = props.plan.flood?.media ?? [];
  if (media.length === 0) {
    return <p className="field-remark">No medium is known yet: add media in the flood stage.</p>;
  }
  return (
    <Select
      label="Medium"
      value={props.of?.mediumId ?? 'drawn'}
      options={[
        { value: 'drawn', label: 'as drawn' },
        ...media.map(({ id, name }) => ({ value: id, label: name })),
      ]}
      onCommit={(id) => props.set(id === 'drawn' ? null : { through: 'medium', mediumId: id })}
    />
  );
}
