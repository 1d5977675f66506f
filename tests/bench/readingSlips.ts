/**
 * How often slips of unit and decimal point in meter readings are found, in the rooms of lightPlusMinus,
 * and how often sound readings are doubted. A slip is found where no slipped reading is followed: left
 * out, or the whole set withheld. It is named where a notice says which slip it looks like.
 */
import { lightNotices } from '../../renderer/engine/light/notices';
import { potLight } from '../../renderer/engine/light/potLight';
import { stream } from '../../renderer/engine/trial/stream';
import type { LightReading } from '../../shared-types/light';
import { lightPlan } from '../engine/light/racks';
import { drawnShelf, readingsOf, realRoom } from './lightPlusMinus';

export const slips = {
  'ten times': (reading: LightReading) => ({ ...reading, value: reading.value * 10 }),
  'a tenth': (reading: LightReading) => ({ ...reading, value: reading.value / 10 }),
  'lux typed as PPFD': (reading: LightReading) => ({ ...reading, value: reading.value * 71 }),
  'PPFD typed as lux': (reading: LightReading) => ({
    ...reading,
    unit: 'lux' as const,
    luxPerPpfd: 71,
  }),
} satisfies Record<string, (reading: LightReading) => LightReading>;
export type Slip = keyof typeof slips;

/** Which of the readings slip. */
export const reaches = ['none', 'one', 'third', 'half', 'most', 'all'] as const;
export type Reach = (typeof reaches)[number];

function slipped(count: number, reach: Reach): number {
  switch (reach) {
    case 'none':
      return 0;
    case 'one':
      return 1;
    case 'third':
      return Math.max(1, Math.floor(count / 3));
    case 'half':
      return Math.max(1, Math.floor(count / 2));
    case 'most':
      return Math.max(1, count - Math.max(1, Math.floor(count / 5)));
    case 'all':
      return count;
    default:
      return reach satisfies never;
  }
}

export interface SlipRates {
  rooms: number;
  /** % of rooms in which no slipped reading is followed. */
  found: number;
  /** % of rooms in which a notice names the slip. */
  named: number;
  /** % of rooms in which a sound reading is left out although a slip was found or none was there. */
  soundLeftOut: number;
  /** % of rooms whose readings are all withheld. */
  withheld: number;
}

const NAMED: Record<Slip, RegExp> = {
  'ten times': /ten times/,
  'a tenth': /a tenth/,
  'lux typed as PPFD': /lux (was )?typed as PPFD/,
  'PPFD typed as lux': /PPFD (was )?typed as lux/,
};

export function slipRates(
  seeds: readonly string[],
  count: number,
  slip: Slip,
  reach: Reach,
): SlipRates {
  let [found, named, soundLeftOut, withheld] = [0, 0, 0, 0];
  for (const seed of seeds) {
    const draw = stream(seed, 'room');
    const rack = drawnShelf(draw);
    const room = realRoom(rack, draw, 'normal');
    const sound = readingsOf(rack, room, count, 'ppfd', draw, 'normal');
    const many = slipped(count, reach);
    const readings = sound.map((reading, i) => (i < many ? slips[slip](reading) : reading));
    const light = lightPlan({ readings });
    const at = potLight(rack, light);
    const calibration = at.calibrations.get('s1');
    if (at.withheld.size > 0) withheld++;
    const followed = new Set(
      (calibration?.readings ?? [])
        .filter((r) => !r.outlier && r.unusable === null)
        .map((r) => r.readingId),
    );
    if (readings.slice(0, many).every(({ id }) => !followed.has(id))) found++;
    if (calibration && readings.slice(many).some(({ id }) => !followed.has(id))) soundLeftOut++;
    const texts = lightNotices({ rack, light }, at).map(({ text, remedy }) => `${text} ${remedy}`);
    if (texts.some((text) => NAMED[slip].test(text))) named++;
  }
  const percent = (n: number) => Math.round((1000 * n) / seeds.length) / 10;
  return {
    rooms: seeds.length,
    found: percent(found),
    named: percent(named),
    soundLeftOut: percent(soundLeftOut),
    withheld: percent(withheld),
  };
}

export interface ExchangeRates {
  rooms: number;
  /** % of rooms in which a notice doubts readings at all. */
  told: number;
  /** % of rooms in which one names both as exchanged; and others in their stead. */
  named: number;
  wrong: number;
}

/** Two readings are exchanged whose values are at least so many times apart; 1: none is. */
export function exchangeRates(
  seeds: readonly string[],
  count: number,
  times: number,
): ExchangeRates {
  let [rooms, told, named, wrong] = [0, 0, 0, 0];
  for (const seed of seeds) {
    const draw = stream(seed, 'room');
    const rack = drawnShelf(draw);
    const room = realRoom(rack, draw, 'normal');
    const sound = readingsOf(rack, room, count, 'ppfd', draw, 'normal');
    const pairs = sound.flatMap((a, i) => sound.slice(i + 1).map((b) => [a, b] as const));
    const pair = pairs.find(([a, b]) => Math.abs(Math.log(a.value / b.value)) >= Math.log(times));
    if (!pair) continue;
    rooms++;
    const [a, b] = pair;
    const ids = [a.id, b.id].map((id) => `reading:${id}`);
    const readings = sound.map((reading) => {
      if (times === 1) return reading;
      return {
        ...reading,
        value: reading === a ? b.value : reading === b ? a.value : reading.value,
      };
    });
    const light = lightPlan({ readings });
    const doubts = lightNotices({ rack, light }, potLight(rack, light)).filter(
      ({ kind }) => kind === 'reading-outlier' || kind === 'reading-implausible',
    );
    const exchanged = doubts.filter(({ text }) => text.includes('look exchanged'));
    if (doubts.length > 0) told++;
    if (exchanged.some(({ about }) => times > 1 && ids.every((id) => about.includes(id)))) named++;
    else if (exchanged.length > 0) wrong++;
  }
  const percent = (n: number) => Math.round((1000 * n) / Math.max(1, rooms)) / 10;
  return { rooms, told: percent(told), named: percent(named), wrong: percent(wrong) };
}
