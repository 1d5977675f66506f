import { z } from 'zod';
import { dateSchema, idSchema } from './basics';

/** What is logged of a unit day by day, to show what its plants really got. */
export const deliveredMeasures = ['ec', 'ph', 'temperature', 'hours', 'ppfd'] as const;
export type DeliveredMeasure = (typeof deliveredMeasures)[number];

/** How each measure is called, written and bounded. */
export const deliveredTraits: Record<
  DeliveredMeasure,
  { name: string; unit: string; decimals: number; lowest: number; highest: number }
> = {
  ec: { name: 'EC', unit: 'mS/cm', decimals: 2, lowest: 0, highest: 50 },
  ph: { name: 'pH', unit: '', decimals: 2, lowest: 0, highest: 14 },
  temperature: { name: 'temperature', unit: '°C', decimals: 1, lowest: -20, highest: 60 },
  hours: { name: 'lamp hours', unit: 'h', decimals: 2, lowest: 0, highest: 24 },
  ppfd: { name: 'PPFD', unit: 'µmol m⁻² s⁻¹', decimals: 0, lowest: 0, highest: 5000 },
};

const figure = (measure: DeliveredMeasure) => {
  const { lowest, highest } = deliveredTraits[measure];
  return z.number().min(lowest).max(highest).optional();
};

/** The figures of one unit on one day; what was not taken is absent. */
export const deliveredFiguresSchema = z.strictObject({
  ec: figure('ec'),
  ph: figure('ph'),
  temperature: figure('temperature'),
  hours: figure('hours'),
  ppfd: figure('ppfd'),
});

/** By the id of a reservoir (flood zone), bay or tray, then by day. */
export const deliveredSchema = z.record(idSchema, z.record(dateSchema, deliveredFiguresSchema));

export type DeliveredFigures = z.infer<typeof deliveredFiguresSchema>;
export type Delivered = z.infer<typeof deliveredSchema>;
