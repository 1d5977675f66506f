import { deliveredTraits, type DeliveredMeasure } from '../../../shared-types/delivered';
import type { Drift } from '../../engine/delivered';
import { apartIn, fixed, ownFrom, rounded, sayDay, shownIn, unitOf } from '../../words';
import type { UnitSystem } from '../../words';

/** How the figures of one measure are read and typed. */
export interface DeliveredSpeech {
  /** `EC`, `temperature`… */
  name: string;
  unit: string;
  /** `EC, mS/cm`: for a table or an axis. */
  head: string;
  decimals: number;
  /** A kept figure as the person reads it, and the other way round. */
  shown: (kept: number) => number;
  kept: (shown: number) => number;
  /** `1.62 mS/cm`; without its unit where a head has it. */
  say: (kept: number, withUnit?: boolean) => string;
  /** How far two figures lie apart. */
  sayApart: (kept: number) => string;
}

/** Temperatures follow the units of the plan; EC, pH, hours and PPFD have one unit everywhere. */
export function deliveredIn(measure: DeliveredMeasure, system: UnitSystem): DeliveredSpeech {
  const { name, unit: own, decimals } = deliveredTraits[measure];
  const turns = measure === 'temperature';
  const unit = turns ? unitOf('temperature', system) : own;
  const shown = (kept: number) => (turns ? shownIn('temperature', system, kept) : kept);
  const withSign = (figure: number, withUnit: boolean) =>
    `${fixed(figure, decimals)} ${withUnit ? unit : ''}`.trimEnd();
  return {
    name,
    unit,
    decimals,
    shown,
    head: unit ? `${name}, ${unit}` : name,
    kept: (figure) => (turns ? rounded(ownFrom('temperature', system, figure), 4) : figure),
    say: (kept, withUnit = true) => withSign(shown(kept), withUnit),
    sayApart: (kept) => withSign(turns ? apartIn('temperature', system, kept) : kept, true),
  };
}

export const sayDriftDays = ({ days, from, to }: Drift): string =>
  `${days} logged days in a row, ${sayDay(from)} to ${sayDay(to)}`;
