import { useState } from 'react';
import type { ReadingUnit } from '../../derive';

/** Lux per PPFD of a white LED; the meter maker's figure for the lamp is better. */
const WHITE_LED = 70;

export interface ReadingUnitChoice extends ReadingUnit {
  setUnit: (unit: ReadingUnit['unit']) => void;
  setFactor: (luxPerPpfd: number) => void;
}

/** In what the meter reads. */
export function useReadingUnit(): ReadingUnitChoice {
  const [unit, setUnit] = useState<ReadingUnit['unit']>('ppfd');
  const [factor, setFactor] = useState(WHITE_LED);
  return { unit, luxPerPpfd: unit === 'lux' ? factor : null, date: null, setUnit, setFactor };
}
