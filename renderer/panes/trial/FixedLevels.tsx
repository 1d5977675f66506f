import type { Factor } from '../../../shared-types/trial/trial';
import { setGivenWhere } from '../../document/commands';
import { blindedSince, idsOf } from '../../document/queries';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { FieldRow, Select } from '../../ui';
import { placesOf, type PlaceUnit } from './words';

/** Which unit carries which level of a factor that nobody shuffled. */
export function FixedLevels({ factor }: { factor: Factor }) {
  const isBlinded = usePlanStore((s) => s.plan !== null && blindedSince(s.plan) !== null);
  if (isBlinded) {
    return <p className="field-remark">Which unit has which level waits while blinded.</p>;
  }
  switch (factor.unit) {
    case 'shelf':
    case 'zone':
    case 'bay':
    case 'tray':
      return <FixedOn factor={factor} unit={factor.unit} />;
    case 'pot':
      return <GivenPots factor={factor} />;
    case 'row-strip':
    case 'column-strip':
      return null;
  }
}

function FixedOn({ factor, unit }: { factor: Factor; unit: PlaceUnit }) {
  const plan = usePlanStore((s) => s.plan);
  if (!plan) return null;
  return (
    <FieldRow>
      {placesOf(plan, unit).map(({ id, name }) => (
        <LevelSelect
          key={id}
          factor={factor}
          label={name}
          value={factor.where.find((w) => w.unitId === id)?.levelId ?? 'none'}
          unitIds={[id]}
        />
      ))}
    </FieldRow>
  );
}

/** The level of the pots that are selected on the rack, for a factor given pot by pot. */
function GivenPots({ factor }: { factor: Factor }) {
  const selection = useSession((s) => s.selection);
  const potIds = idsOf(selection, 'pot');
  const levelOf = new Map(factor.where.map((w) => [w.unitId, w.levelId]));
  const levels = new Set(potIds.map((id) => levelOf.get(id) ?? 'none'));
  const [only] = levels;
  if (potIds.length === 0) {
    return (
      <p className="field-remark">
        {factor.where.length} pots have a level. Select pots on the rack to say theirs.
      </p>
    );
  }
  return (
    <LevelSelect
      factor={factor}
      label={`Level of the ${potIds.length === 1 ? 'selected pot' : `${potIds.length} selected pots`}`}
      value={levels.size === 1 && only !== undefined ? only : null}
      unitIds={potIds}
    />
  );
}

function LevelSelect(props: {
  factor: Factor;
  label: string;
  value: string | null;
  unitIds: readonly string[];
}) {
  const { factor, unitIds } = props;
  const dispatch = useDispatch();
  return (
    <Select
      label={props.label}
      value={props.value}
      options={[
        { value: 'none', label: 'not said' },
        ...factor.levels.map((level) => ({ value: level.id, label: level.name })),
      ]}
      onCommit={(levelId) =>
        dispatch(setGivenWhere, {
          factorId: factor.id,
          unitIds,
          levelId: levelId === 'none' ? null : levelId,
        })
      }
    />
  );
}
