import { useState } from 'react';
import type { ReadingUnit } from '../../../derive';
import { today } from '../../../ui';

/** Lux per PPFD of a white LED; the meter maker's figure for the lamp is better. */
const WHITE_LED = 70;

export interface ReadingUnitChoice extends ReadingUnit {
  setUnit: (unit: ReadingUnit['unit']) => void;
  setFactor: (luxPerPpfd: number) => void;
  setDate: (date: string | null) => void;
}

/** In what the meter reads, and when: today unless said otherwise. */
export function useReadingUnit(): ReadingUnitChoice {
  const [unit, setUnit] = useState<ReadingUnit['unit']>('ppfd');
  const [factor, setFactor] = useState(WHITE_LED);
  const [date, setDate] = useState<string | null>(today);
  return { unit, luxPerPpfd: unit === 'lux' ? factor : null, date, setUnit, setFactor, setDate };
}
