import type { Plan } from '../../../../shared-types/plan';
import {
  applicationWords,
  type Factor,
  type Level,
  type LevelSettings,
} from '../../../../shared-types/trial/trial';
import { setLevelSettings } from '../../../document/commands';
import { settingsWords } from '../../../engine/treated';
import { useDispatch, usePlanStore } from '../../../store/context';
import { Fold } from '../../../ui';
import { speechIn } from '../../../words';
import { LevelLightFields } from './LevelLightFields';
import { LevelMediumField } from './LevelMediumField';
import { LevelPotFields } from './LevelPotFields';
import { settingsOr, withoutBlanks } from './levelSettings';
import { LevelWaterFields } from './LevelWaterFields';

/** What each level sets on lamps, water, medium or pots, where its factor acts through one of them. */
export function LevelSettingsFields({ factor }: { factor: Factor }) {
  const plan = usePlanStore((s) => s.plan);
  const through = factor.appliedThrough;
  if (!plan || through === undefined || through === 'plant') return null;
  const names = { lampKinds: plan.rack.lampKinds, media: plan.flood?.media ?? [] };
  const say = speechIn(plan.display.lengths);
  return (
    <div className="level-settings" data-testid="level-settings">
      <p className="field-remark">
        What each level gets ({applicationWords[through]}). What is left empty stays as drawn.
      </p>
      {factor.levels.map((level) => (
        <Fold
          key={level.id}
          look="card"
          title={level.name}
          said={(level.settings && settingsWords(level.settings, names, say)) ?? 'as drawn'}
          testId={`settings-${level.id}`}
        >
          {() => <Fields plan={plan} factor={factor} level={level} through={through} />}
        </Fold>
      ))}
    </div>
  );
}

function Fields(props: {
  plan: Plan;
  factor: Factor;
  level: Level;
  through: LevelSettings['through'];
}) {
  const { plan, factor, level, through } = props;
  const dispatch = useDispatch();
  const set = (settings: LevelSettings) =>
    dispatch(setLevelSettings, {
      factorId: factor.id,
      levelId: level.id,
      settings: withoutBlanks(settings),
    });
  const { settings } = level;
  switch (through) {
    case 'light':
      return <LevelLightFields plan={plan} of={settingsOr(settings, { through })} set={set} />;
    case 'water':
      return <LevelWaterFields plan={plan} of={settingsOr(settings, { through })} set={set} />;
    case 'medium':
      return (
        <LevelMediumField
          plan={plan}
          of={settings?.through === 'medium' ? settings : null}
          set={(next) =>
            next
              ? set(next)
              : dispatch(setLevelSettings, {
                  factorId: factor.id,
                  levelId: level.id,
                  settings: null,
                })
          }
        />
      );
    case 'hand':
      return <LevelPotFields plan={plan} of={settingsOr(settings, { through })} set={set} />;
  }
}
