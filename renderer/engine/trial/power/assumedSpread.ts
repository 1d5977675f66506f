import { unitWords, type Trial, type UnitKind } from '../../../../shared-types/trial/trial';
import { figures } from '../../../words';

type Expected = NonNullable<Trial['expected']>;

/**
 * What is assumed of the spread between units as long as nobody said it, as a share of the SD between
 * plants: rounded figures of our own, larger where a unit has more of its own (lamps, water, air). A
 * pot is its plant.
 */
const SHARE_OF_PLANT_SD: Record<UnitKind, number> = {
  shelf: 0.5,
  zone: 0.5,
  bay: 0.4,
  tray: 0.3,
  'row-strip': 0.2,
  'column-strip': 0.2,
  pot: 0,
};

export interface SpreadBetween {
  /** SD between units of this kind treated alike, in the unit of the measurement. */
  sd: number;
  /** Nobody said it: it is taken from the kind of unit. */
  assumed: boolean;
}

/** The spread between units of a kind: as the plan says, else as is assumed of such units. */
export function spreadBetween(
  unit: UnitKind,
  { plantSd, unitSd }: Pick<Expected, 'plantSd' | 'unitSd'>,
): SpreadBetween {
  if (unit === 'pot') return { sd: 0, assumed: false };
  if (unitSd !== null) return { sd: unitSd, assumed: false };
  return { sd: SHARE_OF_PLANT_SD[unit] * plantSd, assumed: true };
}

/** `an SD of 1.2 g between trays is assumed`; empty where it was said, or pots are the units. */
export function assumedWords(unit: UnitKind, expected: Expected, measuredIn: string): string {
  const { sd, assumed } = spreadBetween(unit, expected);
  if (!assumed) return '';
  const size = `${figures(sd, 2)} ${measuredIn}`.trimEnd();
  return `an SD of ${size} between ${unitWords[unit].many} is assumed`;
}
