import type { Notice } from '../../../../shared-types/notice';
import { unitWords, type Application } from '../../../../shared-types/trial/trial';
import { list } from '../../../words';
import type { SharedCarrier } from '../applied';
import type { Site } from '../site/site';
import type { TrialPot } from '../site/trialPot';
import { trialNotice } from '../trialNotice';

/** Factors whose levels share the reservoir or the lamps that they are applied through. */
export function carrierNotices(site: Site, shared: readonly SharedCarrier[]): Notice[] {
  const numbers = new Map(site.pots.map((pot, i) => [pot.id, i] as const));
  const nameOf = (unit: 'zone' | 'bay' | 'tray', pot: TrialPot): string =>
    site.unitNames[unit][site.unitOf[unit].classOf[numbers.get(pot.id) ?? -1] ?? -1] ?? '';
  return shared.flatMap(({ factor, pots, mixed }) => {
    const through = factor.appliedThrough;
    const words = through && carrierWords[through];
    if (!words) return [];
    const carriers = pots.flatMap((own) => {
      const [first] = own;
      if (!first) return [];
      const trays = [...new Set(own.map((pot) => nameOf('tray', pot).replace(/^Tray /, '')))];
      return `${words.nameOf((unit) => nameOf(unit, first))} (${trays.length === 1 ? 'tray' : 'trays'} ${list(trays)})`;
    });
    const levels = list(factor.levels.map((level) => level.name));
    const { one } = unitWords[factor.unit];
    return [
      trialNotice(
        'carrier-shared',
        'stop',
        [`factor:${factor.id}`],
        mixed
          ? `Levels of ${factor.name} share ${words.one}: ${list(carriers)}. All plants there get the same ${words.what}, whatever their label says.`
          : `${factor.name} is to differ from ${one} to ${one}, but some share ${words.one}: ${list(carriers)}. ${levels} cannot differ there.`,
        words.remedy(factor.name),
      ),
    ];
  });
}

interface CarrierWords {
  one: string;
  what: string;
  nameOf: (unitName: (unit: 'zone' | 'bay') => string) => string;
  remedy: (factor: string) => string;
}

/** null where a level reaches each pot by itself, so that nothing can be shared. */
const carrierWords: Record<Application, CarrierWords | null> = {
  light: {
    one: 'their lamps',
    what: 'light',
    nameOf: (unitName) => unitName('bay').replace(/^S/, 's').replace(/^B/, 'b'),
    remedy: (factor) => `Give each level of ${factor} whole shelves, with lamps of their own.`,
  },
  water: {
    one: 'a reservoir',
    what: 'water',
    nameOf: (unitName) => unitName('zone'),
    remedy: (factor) => `Give each level of ${factor} reservoirs of its own, at least two of them.`,
  },
  medium: null,
  plant: null,
  hand: null,
};
