import { useState } from 'react';
import { luxFactors } from '../../../../shared-types/luxSpectra';
import type { ReadingUnit } from '../../../derive';
import { today } from '../../../ui';
import { conversionBy, type LuxConversion } from './LuxFields';

export interface ReadingUnitChoice extends ReadingUnit {
  setUnit: (unit: ReadingUnit['unit']) => void;
  setConversion: (conversion: LuxConversion) => void;
  setDate: (date: string | null) => void;
}

const WHITE: LuxConversion = conversionBy('white', luxFactors.white);

/** In what the meter reads, and when: today unless said otherwise. */
export function useReadingUnit(): ReadingUnitChoice {
  const [unit, setUnit] = useState<ReadingUnit['unit']>('ppfd');
  const [conversion, setConversion] = useState(WHITE);
  const [date, setDate] = useState<string | null>(today);
  const ways = { date, setUnit, setConversion, setDate };
  return unit === 'lux' ? { unit, ...conversion, ...ways } : { unit, luxPerPpfd: null, ...ways };
}
