import {
  noPresets,
  type Preset,
  type PresetKind,
  type Presets,
  type PresetValue,
} from '../../../../shared-types/window/presets';
import type { Kept } from '../../../store/context';

/** Kept on this computer, too. */
export const PRESETS: Kept<Presets> = { name: 'presets', initial: noPresets };

/** With one more, in place of one of the same name; by name. */
export function withPreset<K extends PresetKind>(
  presets: Presets,
  kind: K,
  preset: Preset<K>,
): Presets {
  const others = withoutPreset(presets, kind, preset.name)[kind];
  const all = [...others, preset].sort((a, b) => a.name.localeCompare(b.name, 'en'));
  return { ...presets, [kind]: all };
}

export function withoutPreset(presets: Presets, kind: PresetKind, name: string): Presets {
  return { ...presets, [kind]: presets[kind].filter((one) => one.name !== name) };
}

/** Name of the preset that is just this; null: none is. */
export function presetNameOf<K extends PresetKind>(
  presets: Presets,
  kind: K,
  value: PresetValue<K>,
): string | null {
  const wanted = told(value);
  return presets[kind].find((one) => told(one.value) === wanted)?.name ?? null;
}

/** Whatever the order of its keys; what is nested keeps its own order, as the schema reads it. */
const told = (value: object): string =>
  JSON.stringify(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
