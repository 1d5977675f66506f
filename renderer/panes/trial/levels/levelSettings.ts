import type { Plan } from '../../../../shared-types/plan';
import type { LevelSettings } from '../../../../shared-types/trial/trial';

type Through = LevelSettings['through'];
export type SettingsThrough<T extends Through> = Extract<LevelSettings, { through: T }>;

/** What the fields of a level's settings are given. */
export interface LevelFieldsProps<T extends Through> {
  plan: Plan;
  of: SettingsThrough<T>;
  set: (settings: LevelSettings) => void;
}

/** The settings of a level; `empty` where they act through something else, or there are none. */
export function settingsOr<T extends LevelSettings>(
  settings: LevelSettings | undefined,
  empty: T,
): T {
  return settings?.through === empty.through ? (settings as T) : empty;
}

/** null where nothing is set. */
export function withoutBlanks(settings: LevelSettings): LevelSettings | null {
  const said = Object.entries(settings).filter(([, value]) => value !== undefined);
  return said.length > 1 ? (Object.fromEntries(said) as LevelSettings) : null;
}

/** Settings with a change; what is undefined in it is taken out. */
export function settingsWith<T extends LevelSettings>(
  of: T,
  change: { [K in keyof T]?: T[K] | undefined },
): LevelSettings {
  return { ...of, ...change } as LevelSettings;
}
