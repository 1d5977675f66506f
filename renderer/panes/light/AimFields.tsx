import type { LightPlan } from '../../../shared-types/light';
import { editLight, type LightAim } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { FieldRow, NumberField, Select } from '../../ui';

/** What the person asks of the light. */
export function AimFields({ light }: { light: LightPlan }) {
  const dispatch = useDispatch();
  const edit = (patch: Partial<LightAim>) => dispatch(editLight, { patch });
  const target = light.targetPpfdUmol;
  return (
    <>
      <FieldRow>
        <NumberField
          label="Photoperiod"
          unit="h/day"
          value={light.photoperiodHours}
          lowest={0}
          highest={24}
          step={0.5}
          testId="photoperiod"
          onCommit={(photoperiodHours) => edit({ photoperiodHours })}
        />
        <NumberField
          label="Least min : mean"
          value={light.lowestMinToMean}
          lowest={0}
          highest={1}
          step={0.05}
          decimals={2}
          testId="least-min-mean"
          onCommit={(lowestMinToMean) => edit({ lowestMinToMean })}
        />
      </FieldRow>
      <FieldRow>
        <NumberField
          label="Target PPFD from"
          unit="µmol m⁻² s⁻¹"
          value={target?.lowest ?? null}
          lowest={0}
          highest={5000}
          step={10}
          testId="target-lowest"
          onCommit={(lowest) =>
            edit({
              targetPpfdUmol: { lowest, highest: Math.max(lowest, target?.highest ?? lowest) },
            })
          }
        />
        <NumberField
          label="to"
          unit="µmol m⁻² s⁻¹"
          value={target?.highest ?? null}
          lowest={0}
          highest={5000}
          step={10}
          testId="target-highest"
          onCommit={(highest) =>
            edit({
              targetPpfdUmol: { highest, lowest: Math.min(highest, target?.lowest ?? highest) },
            })
          }
        />
      </FieldRow>
      <Select
        label="Canopy height used"
        value={light.canopyAt}
        testId="canopy-at"
        options={[
          { value: 'planting', label: 'at planting' },
          { value: 'midway', label: 'midway between planting and harvest' },
          { value: 'harvest', label: 'at harvest' },
        ]}
        onCommit={(canopyAt) => edit({ canopyAt })}
      />
    </>
  );
}
