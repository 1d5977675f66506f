import type { QuickFactor } from '../../../shared-types/window/quickStart';
import { positiveMm, share } from '../../../shared-types/basics';
import type { LevelSettings } from '../../../shared-types/trial/trial';
import { trimmed, say, type UnitSystem, spokenLocale } from '../../words';

const BETWEEN = /\s*(?:[,;]|\bor\b)\s*/i;
/** Where decimals have a comma, `EC 1,2` is one level. */
const BETWEEN_BUT_DECIMALS = /\s*(?:(?<![0-9]),|,(?![0-9])|;|\bor\b)\s*/i;

/** Levels as typed, parted by commas: `bright, dim 60 %`. */
export const readLevels = (text: string): string[] => {
  const parts = text.split(spokenLocale().decimal === ',' ? BETWEEN_BUT_DECIMALS : BETWEEN);
  return parts.map((part) => part.trim()).filter((part) => part !== '');
};

const figureIn = (text: string, unit: string): number | null => {
  const found = new RegExp(`(\\d+(?:[.,]\\d+)?)\\s*${unit}`, 'i').exec(text)?.[1];
  return found === undefined ? null : Number(found.replace(',', '.'));
};

/** What a level says of its own settings by a figure with its unit; null: nothing. */
export function settingsIn(
  { name, through }: Pick<QuickFactor, 'name' | 'through'>,
  level: string,
): LevelSettings | null {
  switch (through) {
    case 'light': {
      const percent = figureIn(level, '%');
      const hours = figureIn(level, 'h(?:ours?)?\\b');
      const dimming = percent === null ? null : percent / 100;
      const set = {
        ...(dimming !== null && share.safeParse(dimming).success ? { dimming } : {}),
        ...(hours !== null && hours <= 24 ? { photoperiodHours: hours } : {}),
      };
      return Object.keys(set).length > 0 ? { through, ...set } : null;
    }
    case 'water': {
      const ec = figureIn(level, '(?:mS)') ?? figureIn(level.replace(/^.*?\bec\b/i, ''), '');
      const said = /\bec\b|mS/i.test(`${name} ${level}`);
      return ec !== null && said && ec <= 50 ? { through, ecMsCm: ec } : null;
    }
    case 'hand': {
      const cm = figureIn(level, 'cm');
      const mm = cm === null ? figureIn(level, 'mm') : cm * 10;
      if (mm === null || !/pot/i.test(name) || !positiveMm.safeParse(mm).success) return null;
      return { through, potDiameterMm: mm };
    }
    case 'medium':
    case 'plant':
      return null;
  }
}

/** What the levels set, in words, where some of them say it; empty: none does. */
export function saySettings(
  factor: Pick<QuickFactor, 'name' | 'through' | 'levels'>,
  system: UnitSystem = 'metric',
): string {
  const said = factor.levels.map((level) => sayOne(settingsIn(factor, level), system));
  if (said.every((one) => one === '')) return '';
  return factor.levels.map((level, i) => `${level}: ${said[i] || 'as drawn'}`).join(' · ');
}

function sayOne(settings: LevelSettings | null, system: UnitSystem): string {
  switch (settings?.through) {
    case 'light': {
      const { dimming, photoperiodHours } = settings;
      return [
        ...(dimming === undefined ? [] : [`lamps at ${trimmed(dimming * 100, 1)} %`]),
        ...(photoperiodHours === undefined ? [] : [`${trimmed(photoperiodHours, 2)} h a day`]),
      ].join(', ');
    }
    case 'water':
      return settings.ecMsCm === undefined ? '' : `EC ${trimmed(settings.ecMsCm, 2)} mS/cm`;
    case 'hand':
      return settings.potDiameterMm === undefined
        ? ''
        : `pots of ${say('length', system, settings.potDiameterMm)}`;
    case 'medium':
    case undefined:
      return '';
  }
}
