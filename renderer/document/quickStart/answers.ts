import type { LampKind } from '../../../shared-types/rack';
import type { UnitSystem } from '../../words';
import type { QuickAnswers, QuickMeasured } from '../../../shared-types/window/quickStart';
import { newLampKind } from '../new';
import { usualMeasurements } from '../newTrial';

export type LampModel = Omit<LampKind, 'id'>;

const { id: _, ...longStrip } = newLampKind('k0');
const strip = (watts: number, lengthMm: number): LampModel => ({
  ...longStrip,
  name: `White strip ${watts} W`,
  lengthMm,
  powerW: watts,
  massKg: lengthMm < 800 ? 0.4 : 0.8,
});

/** Lamps of common sizes; efficacies of 2.5 µmol/J are those of plain white LEDs of the trade. */
export const usualLamps: readonly LampModel[] = [
  strip(36, 1150),
  strip(18, 560),
  {
    ...longStrip,
    name: 'White panel 100 W',
    shape: 'panel',
    lengthMm: 500,
    widthMm: 300,
    powerW: 100,
    massKg: 2.5,
  },
];

const [usualLamp = longStrip] = usualLamps;

/** Three shelves of common size, of which every figure can be typed over. */
export const firstAnswers: QuickAnswers = {
  shelves: 3,
  widthMm: 1200,
  depthMm: 600,
  clearanceMm: 450,
  vessel: 'tray',
  vessels: 1,
  columns: 9,
  rows: 4,
  potMm: 100,
  potHeightMm: null,
  lamps: 3,
  lamp: usualLamp,
  question: '',
  factors: [],
  // The main result alone is ticked.
  measured: usualMeasurements.slice(0, 4).map((what, i): QuickMeasured => ({
    ...what,
    start: i === 0,
    between: false,
    harvest: i === 0,
  })),
  main: usualMeasurements[0]?.name ?? '',
};

const INCH_MM = 25.4;

/** The same in round figures of the units that are read. */
export function firstAnswersIn(system: UnitSystem): QuickAnswers {
  if (system === 'metric') return firstAnswers;
  const inches = { widthMm: 48 * INCH_MM, depthMm: 24 * INCH_MM, clearanceMm: 18 * INCH_MM };
  return { ...firstAnswers, ...inches, potMm: 4 * INCH_MM };
}
