import type { Plan } from '../../../shared-types/plan';
import {
  applicationWords,
  type Factor,
  type Level,
  type LevelSettings,
} from '../../../shared-types/trial';
import { setLevelSettings } from '../../document/commands';
import { settingsWords } from '../../engine/treated';
import { useDispatch, usePlanStore } from '../../store/context';
import { FieldRow, Fold, Select, TextField } from '../../ui';
import { shownIn, speechIn, unitOf } from '../../words';
import { DrawnField } from './DrawnField';

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

type Of<T extends LevelSettings['through']> = Extract<LevelSettings, { through: T }>;

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
      return <LightFields plan={plan} of={own(settings, { through })} set={set} />;
    case 'water':
      return <WaterFields plan={plan} of={own(settings, { through })} set={set} />;
    case 'medium':
      return (
        <MediumField
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
      return <PotFields plan={plan} of={own(settings, { through })} set={set} />;
  }
}

function own<T extends LevelSettings>(settings: LevelSettings | undefined, empty: T): T {
  return settings?.through === empty.through ? (settings as T) : empty;
}

/** null where nothing is set. */
function withoutBlanks(settings: LevelSettings): LevelSettings | null {
  const said = Object.entries(settings).filter(([, value]) => value !== undefined);
  return said.length > 1 ? (Object.fromEntries(said) as LevelSettings) : null;
}

interface Part<T extends LevelSettings['through']> {
  plan: Plan;
  of: Of<T>;
  set: (settings: LevelSettings) => void;
}

const HANGS_AT_MM = 400;

function LightFields({ plan, of, set }: Part<'light'>) {
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
          onCommit={(id) => set(said(of, { lampKindId: id === 'drawn' ? undefined : id }))}
        />
        <DrawnField
          label="Output"
          unit="%"
          size={0.01}
          lowest={0}
          highest={1}
          value={of.dimming}
          onCommit={(dimming) => set(said(of, { dimming }))}
        />
      </FieldRow>
      <FieldRow>
        <DrawnField
          label="Hours a day"
          unit="h"
          lowest={0}
          highest={24}
          value={of.photoperiodHours}
          onCommit={(photoperiodHours) => set(said(of, { photoperiodHours }))}
        />
        <DrawnField
          label="Lamps of its own"
          whole
          lowest={1}
          highest={100}
          value={hanging?.count}
          onCommit={(count) =>
            set(
              said(of, {
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
            set(said(of, { hanging: { ...hanging, heightMm } }))
          }
        />
      ) : null}
    </>
  );
}

function WaterFields({ plan, of, set }: Part<'water'>) {
  const { lengths } = plan.display;
  return (
    <>
      <FieldRow>
        <TextField
          label="Solution"
          value={of.solution ?? ''}
          longest={120}
          onCommit={(text) => set(said(of, { solution: text.trim() || undefined }))}
        />
        <DrawnField
          label="EC"
          unit="mS/cm"
          lowest={0}
          highest={50}
          value={of.ecMsCm}
          onCommit={(ecMsCm) => set(said(of, { ecMsCm }))}
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
          onCommit={(floodDepthMm) => set(said(of, { floodDepthMm }))}
        />
        <DrawnField
          label="Flood every"
          unit="min"
          lowest={1}
          highest={1440}
          value={of.everyMinutes}
          onCommit={(everyMinutes) => set(said(of, { everyMinutes }))}
        />
        <DrawnField
          label="Pump on for"
          unit="min"
          lowest={0.1}
          highest={1440}
          value={of.onMinutes}
          onCommit={(onMinutes) => set(said(of, { onMinutes }))}
        />
      </FieldRow>
    </>
  );
}

function MediumField(props: {
  plan: Plan;
  of: Of<'medium'> | null;
  set: (settings: Of<'medium'> | null) => void;
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

function PotFields({ plan, of, set }: Part<'hand'>) {
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
        onCommit={(potDiameterMm) => set(said(of, { potDiameterMm }))}
      />
      <DrawnField
        {...length}
        label="Pot height"
        value={of.potHeightMm}
        onCommit={(potHeightMm) => set(said(of, { potHeightMm }))}
      />
    </FieldRow>
  );
}

/** Settings with a change; what is undefined in it is taken out. */
function said<T extends LevelSettings>(
  of: T,
  change: { [K in keyof T]?: T[K] | undefined },
): LevelSettings {
  return { ...of, ...change } as LevelSettings;
}
