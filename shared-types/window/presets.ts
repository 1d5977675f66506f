import { z } from 'zod';
import { nameSchema } from '../basics';
import { mediumSchema, siphonSchema } from '../flood';
import { lampKindSchema, potGridSchema, shelfSchema, traySchema } from '../rack';

/** Things of one's own that are used again: kept on this computer, offered where such a thing is made. */

const presetSchemas = {
  shelf: shelfSchema.pick({ widthMm: true, depthMm: true, clearanceMm: true }),
  tray: traySchema.pick({ widthMm: true, depthMm: true, rimHeightMm: true }),
  pot: potGridSchema.pick({ potDiameterMm: true, potHeightMm: true }),
  lamp: lampKindSchema.omit({ id: true }),
  medium: mediumSchema.omit({ id: true, trayIds: true }),
  siphon: siphonSchema,
};

export type PresetKind = keyof typeof presetSchemas;
export type PresetValue<K extends PresetKind> = z.infer<(typeof presetSchemas)[K]>;
export interface Preset<K extends PresetKind> {
  name: string;
  value: PresetValue<K>;
}
export type Presets = { readonly [K in PresetKind]: readonly Preset<K>[] };

export const presetWords: Record<PresetKind, { one: string; many: string }> = {
  shelf: { one: 'shelf', many: 'shelves' },
  tray: { one: 'tray', many: 'trays' },
  pot: { one: 'pot', many: 'pots' },
  lamp: { one: 'lamp', many: 'lamps' },
  medium: { one: 'medium', many: 'media' },
  siphon: { one: 'siphon', many: 'siphons' },
};

/** As many of a kind as can be looked through. */
const MOST = 50;

// What was kept by another version and cannot be read is left out; the rest stays.
const kept = <T extends z.ZodType>(value: T) =>
  z
    .array(z.unknown())
    .catch([])
    .transform((all) =>
      all
        .flatMap((one) => z.strictObject({ name: nameSchema, value }).safeParse(one).data ?? [])
        .slice(0, MOST),
    );

export const presetsSchema = z.object({
  shelf: kept(presetSchemas.shelf),
  tray: kept(presetSchemas.tray),
  pot: kept(presetSchemas.pot),
  lamp: kept(presetSchemas.lamp),
  medium: kept(presetSchemas.medium),
  siphon: kept(presetSchemas.siphon),
});

export const noPresets: Presets = {
  shelf: [],
  tray: [],
  pot: [],
  lamp: [],
  medium: [],
  siphon: [],
};
